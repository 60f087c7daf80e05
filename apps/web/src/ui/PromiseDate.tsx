import { classNames } from './class-names.js';
import styles from './PromiseDate.module.css';

export type PromiseDateProps =
  | { readonly kind: 'firm'; readonly date: string; readonly spoken: string }
  | { readonly kind: 'if'; readonly date: string; readonly spoken: string; readonly condition: string }
  | { readonly kind: 'none' };

/**
 * The one large figure of a job card. Solid figures are a promise; hollow ones stand behind a dashed box with the
 * condition they rest on; without either the words say so. `date` is as printed, `spoken` as read aloud.
 */
export function PromiseDate(props: PromiseDateProps) {
  if (props.kind === 'none') return <p className={classNames(styles.date, styles.none)}>No date</p>;
  if (props.kind === 'firm') {
    return (
      <p className={styles.date}>
        <span aria-hidden="true">{props.date}</span>
        <span className="hidden">{props.spoken}</span>
      </p>
    );
  }
  return (
    <p className={styles.row}>
      <span className={styles.ifword}>{props.condition}</span>
      <span className={classNames(styles.date, styles.if)} aria-hidden="true">
        {props.date}
      </span>
      <span className="hidden">, “if” date, {props.spoken}</span>
    </p>
  );
}
