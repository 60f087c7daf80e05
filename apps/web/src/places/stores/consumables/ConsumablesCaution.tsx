import { CautionLine } from '../../../ui/CautionLine.js';
import styles from './Consumables.module.css';

/** Stands wherever solvents, sealants, greases and rags are shown. */
export function ConsumablesCaution() {
  return (
    <div className={styles.caution}>
      <CautionLine>
        Solvents, sealants and greases can harm and burn: follow the maker’s data sheet, local codes and qualified people. Rags
        soaked with oil or solvent can take fire by themselves; a lidded metal bin, emptied often, is common practice.
      </CautionLine>
    </div>
  );
}
