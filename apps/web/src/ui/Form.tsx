import type { ReactNode } from 'react';
import styles from './Field.module.css';

export interface FormProps {
  readonly label: string;
  readonly onSubmit: () => void;
  readonly children: ReactNode;
}

/** A form that never leaves the page; Enter in a field sends it. */
export function Form({ label, onSubmit, children }: FormProps) {
  return (
    <form
      className={styles.form}
      aria-label={label}
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        onSubmit();
      }}
    >
      {children}
    </form>
  );
}

/** Fields side by side, under one another where the width does not do. */
export function FieldPair({ children }: { readonly children: ReactNode }) {
  return <div className={styles.pair}>{children}</div>;
}
