import { useQuery } from '@tanstack/react-query';
import { classNames } from '../../../ui/class-names.js';
import { findingWordsQuery } from './queries.js';
import styles from './StripDown.module.css';

export interface FindingWordsProps {
  readonly chosen: string;
  readonly onChoose: (word: string) => void;
}

/** What was seen, in the workshop's own words: one press, and another takes it back. */
export function FindingWords({ chosen, onChoose }: FindingWordsProps) {
  const words = (useQuery(findingWordsQuery).data?.words ?? []).filter((each) => !each.retired || each.word === chosen);
  return (
    <fieldset className={styles.words}>
      <legend>What was seen</legend>
      {words.map(({ id, word }) => (
        <button
          key={id}
          type="button"
          className={classNames(styles.word, word === chosen && styles.chosen)}
          aria-pressed={word === chosen}
          onClick={() => onChoose(word === chosen ? '' : word)}
        >
          {word}
        </button>
      ))}
    </fieldset>
  );
}
