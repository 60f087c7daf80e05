import { type Disposition, dispositions } from '@corewright/contracts/cores';
import { useChoiceTaker } from '../../../scan/scanning.js';
import { classNames } from '../../../ui/class-names.js';
import styles from './StripDown.module.css';

const words: Readonly<Record<Disposition, string>> = {
  're-use here': 'goes back into this unit',
  're-use after rework': 'held until it is done',
  'send out': 'to a firm, tagged',
  'to stores': 'a lot with its label',
  replace: 'a new one goes in',
  hold: 'somebody decides later',
  scrap: 'gone for good',
  'left in place': 'it was not taken out',
};

export interface FateKeysProps {
  readonly chosen: Disposition | null;
  readonly usual: Disposition | null;
  readonly onChoose: (fate: Disposition) => void;
}

/** What becomes of a component: one press, or its number. */
export function FateKeys({ chosen, usual, onChoose }: FateKeysProps) {
  useChoiceTaker((number) => {
    const fate = dispositions[number - 1];
    if (fate === undefined) return false;
    onChoose(fate);
    return true;
  });
  return (
    <fieldset className={styles.fates}>
      <legend>What becomes of it</legend>
      {dispositions.map((fate, index) => (
        <button
          key={fate}
          type="button"
          className={classNames(styles.fate, fate === chosen && styles.chosen)}
          aria-pressed={fate === chosen}
          onClick={() => onChoose(fate)}
        >
          <span className={styles.number} aria-hidden="true">
            {index + 1}
          </span>
          <span>
            <strong>{fate}</strong>
            <small>{fate === usual ? `usual; ${words[fate]}` : words[fate]}</small>
          </span>
        </button>
      ))}
    </fieldset>
  );
}
