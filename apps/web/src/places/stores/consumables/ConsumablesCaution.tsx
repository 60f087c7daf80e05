import { CautionLine } from '../../../ui/CautionLine.js';

/** Stands wherever solvents, sealants, greases and rags are shown. */
export function ConsumablesCaution() {
  return (
    <CautionLine>
      Solvents, sealants and greases can harm and burn: follow the maker’s data sheet, local codes and qualified people. Rags
      soaked with oil or solvent can take fire by themselves; a lidded metal bin, emptied often, is common practice.
    </CautionLine>
  );
}
