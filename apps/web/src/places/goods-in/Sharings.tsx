import type { SharingShown } from '@corewright/contracts/costs';
import { Fold } from '../../ui/Fold.js';
import { sayChange, sayMoney } from '../../ui/say-money.js';
import { sayInstant } from '../../ui/say-when.js';
import { Timeline } from '../../ui/Timeline.js';
import styles from './CostSection.module.css';
import { sayNotKnown, WAYS } from './cost-actions.js';
import type { SharedCost } from './ShareForm.js';

/** What was shared stays what it was; here stands why it no longer fits. */
export function OutOfDate({ reasons }: { readonly reasons: readonly string[] }) {
  if (reasons.length === 0) return null;
  return (
    <div className={styles.stale} role="status">
      <b>What was shared no longer fits. Share it again.</b>
      <ul>
        {reasons.map((reason) => (
          <li key={reason}>{reason}</li>
        ))}
      </ul>
    </div>
  );
}

/** How a cost was shared, each time with what it changed. */
export function Sharings({ cost: { sharings, ours } }: { readonly cost: SharedCost }) {
  return (
    <Fold summary={sharings.length === 1 ? 'How it was shared' : `How it was shared, ${sharings.length} times`}>
      <Timeline
        label="How it was shared, newest first"
        entries={sharings.map((sharing) => ({
          id: sharing.id,
          when: sayInstant(sharing.at, new Date()),
          words: <SharingWords sharing={sharing} currency={ours} />,
        }))}
      />
    </Fold>
  );
}

function SharingWords({ sharing, currency }: { readonly sharing: SharingShown; readonly currency: string }) {
  const gaps = sayNotKnown(sharing.notKnown);
  return (
    <>
      <b>{sayMoney(sharing.cost, currency)}</b> by {WAYS.find((way) => way.value === sharing.way)?.label}
      {gaps !== '' && `, while ${gaps}`}, <span className="quiet">{sharing.by}</span>
      {sharing.why !== '' && <> “{sharing.why}”</>}
      <ul className={styles.changes}>
        {sharing.changes.map((change) => (
          <li key={change.rowId}>
            row {change.position}, {change.name}: {sayChange(change.amount, currency)}
          </li>
        ))}
        {sharing.changes.length === 0 && <li>No share changed.</li>}
      </ul>
    </>
  );
}
