import type { PlaceBrief } from '@corewright/contracts/stores';
import type { TrayRow } from '@corewright/contracts/un-kit';
import { sayCode } from '../../../scan/acts.js';
import { Code } from '../../../ui/Code.js';
import { classNames } from '../../../ui/class-names.js';
import { Go } from '../../../ui/Go.js';
import { SelectField } from '../../../ui/SelectField.js';
import { sayQuantity } from '../pick-list/say-kit.js';
import styles from './UnKit.module.css';

export interface TrayRowShownProps {
  readonly row: TrayRow;
  /** where it goes; empty where nobody has said so yet */
  readonly placeId: string;
  /** its place was scanned last */
  readonly isHere: boolean;
  readonly places: readonly PlaceBrief[];
  readonly onPlace: (placeId: string) => void;
}

/** So many of a thing, and where they go: to where they came from, or to another place where that is full. */
export function TrayRowShown({ row, placeId, isHere, places, onPlace }: TrayRowShownProps) {
  const { thing, unitOfMeasure, quantity, from, words } = row;
  const choices = places.map(({ id, path }) => ({ value: id, label: path }));
  return (
    <li className={classNames(styles.row, isHere && styles.here)}>
      <span className={styles.many}>{sayQuantity(quantity, unitOfMeasure)}</span>
      <Go href={`/stores/things/${thing.id}`}>
        <Code code={thing.code} size="row" />
      </Go>
      <span className={styles.what}>
        <b>{thing.name}</b>
        <span className={styles.notes}>{from === null ? `came from no place: ${words}` : `${words}, out of ${from.name}`}</span>
      </span>
      <div className={styles.where}>
        <SelectField
          label={`Where ${sayCode(thing.code)} goes`}
          value={placeId}
          choices={from === null ? [{ value: '', label: 'choose a place' }, ...choices] : choices}
          onChange={onPlace}
          note={from !== null && placeId !== from.id ? `not where it came from, ${from.name}` : null}
        />
      </div>
    </li>
  );
}
