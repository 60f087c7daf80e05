import type { UseBy } from '@corewright/contracts/consumables';
import styles from './Consumables.module.css';

/** Up to when it may be used; past that in words and with a solid mark. */
export function UseByWords({ useBy }: { readonly useBy: UseBy }) {
  if (!useBy.past) return <span className="quiet">{useBy.words}</span>;
  return (
    <b className={styles.past}>
      <span className={styles.mark} aria-hidden="true" />
      {useBy.words}
    </b>
  );
}
