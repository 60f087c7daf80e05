import { useState } from 'react';
import styles from './Opening.module.css';

export interface DeskPhotographsProps {
  readonly pictures: readonly string[];
  readonly name: string;
}

/** One photograph large, the others to choose from. */
export function DeskPhotographs({ pictures, name }: DeskPhotographsProps) {
  const [shown, setShown] = useState(0);
  const picture = pictures[shown] ?? pictures[0];
  if (picture === undefined) return <div className={styles.noPhotograph}>No photograph was taken.</div>;
  return (
    <div>
      <img className={styles.photograph} src={`/api/pictures/${picture}/full`} alt={`${name}, photograph ${shown + 1}`} />
      {pictures.length > 1 && (
        <div className={styles.others}>
          {pictures.map((each, index) => (
            <button
              key={each}
              type="button"
              className={styles.other}
              aria-pressed={each === picture}
              onClick={() => setShown(index)}
            >
              <img src={`/api/pictures/${each}/small`} alt={`Show photograph ${index + 1}`} />
            </button>
          ))}
        </div>
      )}
    </div>
  );
}
