import type { TrayRow } from '@corewright/contracts/un-kit';
import { sayCode } from '../../../scan/acts.js';
import { Code } from '../../../ui/Code.js';
import { classNames } from '../../../ui/class-names.js';
import { Go } from '../../../ui/Go.js';
import { PlaceField } from '../../stores/place/PlaceField.js';
import { sayQuantity } from '../pick-list/say-kit.js';
import styles from './UnKit.module.css';

export interface TrayRowShownProps {
  readonly row: TrayRow;
  /** where it goes; empty where nobody has said so yet */
  readonly placeId: string;
  /** its place was scanned last */
  readonly isHere: boolean;
  readonly onPlace: (placeId: string) => void;
}

/** So many of a thing, and where they go: to where they came from, or to another place where that is full. */
export function TrayRowShown({ row, placeId, isHere, onPlace }: TrayRowShownProps) {
  const { thing, unitOfMeasure, quantity, from, words } = row;
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
        <PlaceField
          label={`Where ${sayCode(thing.code)} goes`}
          path={from?.path ?? ''}
          onPlace={(chosen) => onPlace(chosen ?? '')}
          note={noteOf(row, placeId)}
          isQuiet
        />
      </div>
    </li>
  );
}

function noteOf({ from }: TrayRow, placeId: string): string | null {
  if (placeId === '') return 'key a word of its way, and choose it from the list';
  return from === null || placeId === from.id ? null : `not where it came from, ${from.name}`;
}
