import { type ReactNode, useEffect, useId, useRef, useState } from 'react';
import { Acts, Button } from './Button.js';
import styles from './FoldedActs.module.css';

export interface ActGroup {
  /** what somebody comes for, in a word or two */
  readonly name: string;
  /** buttons and links; `false` is not offered */
  readonly acts: readonly ReactNode[];
}

export interface FoldedActsProps {
  /** on the button that opens the fold */
  readonly more: string;
  /** what is done daily: these stand */
  readonly daily: ReactNode;
  /** all else, by what it is for; a group in which nothing is offered is left out */
  readonly groups: readonly ActGroup[];
  /** what the form that stands open is for, in the words of its button; null: none is open */
  readonly inHand: string | null;
  /** that form, wherever its button is */
  readonly children: ReactNode;
}

/** What can be done with something: a few acts stand, the others are a press away, and the form that was opened stands below. */
export function FoldedActs({ more, daily, groups, inHand, children }: FoldedActsProps) {
  const id = useId();
  const [isOpen, setOpen] = useState(false);
  const [seen, setSeen] = useState(inHand);
  const all = useRef<HTMLDivElement>(null);
  const form = useRef<HTMLDivElement>(null);
  const hadForm = useRef(false);
  const offered = groups
    .map(({ name, acts }) => ({ name, acts: acts.filter((act) => act !== false) }))
    .filter(({ acts }) => acts.length > 0);
  if (seen !== inHand) {
    setSeen(inHand);
    // the form that was chosen is what is looked at now
    if (inHand !== null) setOpen(false);
  }
  useEffect(() => {
    // the button that was pressed is gone, and so is a form that was closed: the focus goes on where the eye does
    const lost = document.activeElement === null || document.activeElement === document.body;
    if (inHand !== null && form.current?.contains(document.activeElement) === false) form.current.focus();
    if (inHand === null && lost && hadForm.current) all.current?.focus({ preventScroll: true });
    hadForm.current = inHand !== null;
  }, [inHand]);
  return (
    <div className={styles.all} ref={all} tabIndex={-1}>
      <Acts>
        {daily}
        {offered.length > 0 && (
          <Button onPress={() => setOpen(!isOpen)} expanded={isOpen} controls={isOpen ? id : undefined}>
            {more}
            <span className={styles.mark} aria-hidden="true" />
          </Button>
        )}
      </Acts>
      {isOpen && (
        <ul id={id} className={styles.groups} aria-label={more}>
          {offered.map(({ name, acts }) => (
            <li key={name} className={styles.group}>
              <span className={styles.name}>{name}</span>
              <Acts>{acts}</Acts>
            </li>
          ))}
        </ul>
      )}
      <div className={styles.form} ref={form} tabIndex={-1}>
        {inHand !== null && <p className={styles.inHand}>{inHand}</p>}
        {children}
      </div>
    </div>
  );
}
