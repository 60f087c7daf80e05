import type { StripDown } from '@corewright/contracts/cores';
import { PrintOnce } from '../../labels/PrintOnce.js';
import styles from './StripDown.module.css';

const gone: readonly (string | null)[] = ['scrap', 'replace'];

/** The labels of what was kept at a strip-down, each printed once. */
export function LabelsOfStripDown({ strip }: { readonly strip: StripDown }) {
  const codes = strip.components.flatMap((component) =>
    component.findings.flatMap(({ thing, superseded, disposition }) =>
      thing === null || superseded || gone.includes(disposition) ? [] : [thing.code],
    ),
  );
  if (codes.length === 0) return null;
  return (
    <div className={styles.foot}>
      <PrintOnce codes={codes} stock="bag label" act="Print the labels that are not printed yet" />
    </div>
  );
}
