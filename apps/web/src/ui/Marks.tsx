import { Fragment } from 'react';
import styles from './Marks.module.css';

/** What is stamped on a thing. Each `?` that stands for something unreadable is shown as such and never smoothed away. */
export function Marks({ text }: { readonly text: string }) {
  const pieces = text.split(/(\?+)/);
  return (
    <span>
      {pieces.map((piece, index) => {
        const key = `${index}-${piece}`;
        if (!piece.startsWith('?')) return <Fragment key={key}>{piece}</Fragment>;
        return (
          <mark key={key} className={styles.unread} title="cannot be read">
            {piece}
          </mark>
        );
      })}
    </span>
  );
}
