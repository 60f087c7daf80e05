import { useId, useState } from 'react';
import { CameraPanel } from '../scan/camera/CameraPanel.js';
import { hasCamera } from '../scan/camera/camera-eye.js';
import { Button } from '../ui/Button.js';
import styles from './ScanStrip.module.css';

/** For hands without a scanner: the field, and the camera where there is one. Its picture goes at the end of what stands around the field. */
export function ScanEntry({ onKeyed }: ScanFieldProps) {
  const id = useId();
  const [isLooking, setLooking] = useState(false);
  return (
    <>
      <div className={styles.entry}>
        <ScanField onKeyed={onKeyed} />
        {hasCamera() && (
          <Button onPress={() => setLooking(!isLooking)} expanded={isLooking} controls={isLooking ? id : undefined}>
            Camera
          </Button>
        )}
      </div>
      {isLooking && <CameraPanel id={id} onClose={() => setLooking(false)} />}
    </>
  );
}

interface ScanFieldProps {
  readonly onKeyed: (text: string) => void;
}

/** For scanners that want a field, and for keys. Enter takes what was keyed. */
function ScanField({ onKeyed }: ScanFieldProps) {
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
