import { useState } from 'react';
import styles from './ScanStrip.module.css';

/** For hands without a scanner, and for scanners that want a field. Enter takes what was keyed. */
export function ScanField({ onKeyed }: { readonly onKeyed: (text: string) => void }) {
  const [text, setText] = useState('');
  return (
    <form
      className={styles.fieldForm}
      aria-label="Key a code"
      onSubmit={(event) => {
        event.preventDefault();
        if (text.trim() === '') return;
        onKeyed(text);
        setText('');
      }}
    >
      <label className={styles.field}>
        <span>Scan, or key a code</span>
        <input
          value={text}
          onChange={(event) => setText(event.target.value)}
          autoComplete="off"
          autoCapitalize="characters"
          spellCheck={false}
          enterKeyHint="go"
          maxLength={64}
        />
      </label>
    </form>
  );
}
