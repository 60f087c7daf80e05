import { type KeyboardEvent, type ReactNode, useEffect, useRef } from 'react';
import { Button } from './Button.js';
import styles from './Sheet.module.css';

export interface SheetProps {
  readonly title: ReactNode;
  /** what it shows, for ears */
  readonly label: string;
  readonly children: ReactNode;
  readonly onClose: () => void;
  /** An arrow key was pressed outside of a field. */
  readonly onArrow?: (step: 1 | -1) => void;
}

/** Something that covers the page until it is closed; the focus then goes back to where it was. Escape closes it. */
export function Sheet({ title, label, children, onClose, onArrow }: SheetProps) {
  const sheet = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const shown = sheet.current;
    shown?.showModal();
    return () => shown?.close();
  }, []);
  const closed = () => {
    // The event comes late: where it was opened again meanwhile, nobody has closed it.
    if (sheet.current?.open === false) onClose();
  };
  const press = (event: KeyboardEvent) => {
    if (event.target instanceof HTMLElement && event.target.matches('input, textarea, select')) return;
    const step = arrowSteps[event.key];
    if (step === undefined || onArrow === undefined) return;
    event.preventDefault();
    onArrow(step);
  };
  return (
    <dialog ref={sheet} className={styles.sheet} aria-label={label} onClose={closed} onKeyDown={press}>
      <div className={styles.head}>
        <span>{title}</span>
        <Button onPress={onClose}>Close</Button>
      </div>
      {children}
    </dialog>
  );
}

const arrowSteps: Readonly<Record<string, 1 | -1>> = { ArrowLeft: -1, ArrowRight: 1 };
