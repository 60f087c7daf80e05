import type { LabelChanged } from '@corewright/contracts/label-changes';
import { Acts, ButtonLink } from '../../ui/Button.js';
import styles from './LabelScreen.module.css';
import { PrintOnce } from './PrintOnce.js';

export interface NewLabelProps {
  readonly changed: LabelChanged;
  /** it was a blank label, so that it is printed and in the hand */
  readonly isPrintedBefore: boolean;
}

/** What a change of labels came to; a new code has no label yet, which is printed from here. */
export function NewLabel({ changed, isPrintedBefore }: NewLabelProps) {
  const { subject, isPlace } = changed.borne;
  return (
    <div className={styles.done} role="status">
      <p>
        <b>{changed.words}</b>
      </p>
      {!isPrintedBefore && (
        <PrintOnce
          codes={[changed.code]}
          stock={changed.code.startsWith('U') ? 'tie-on tag' : 'bag label'}
          act="Print its label"
        />
      )}
      <Acts>
        <ButtonLink href={isPlace ? `/stores/places/${subject.id}` : `/stores/things/${subject.id}`}>Look at it</ButtonLink>
      </Acts>
    </div>
  );
}
