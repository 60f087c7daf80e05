import type { CondemnedThing, HeldThing, Holds } from '@corewright/contracts/goods-apart';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Button, ButtonLink } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { classNames } from '../../../ui/class-names.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { FieldPair } from '../../../ui/Form.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { PageHead, Section } from '../../../ui/Section.js';
import { SelectField } from '../../../ui/SelectField.js';
import { sayDay } from '../../../ui/say-when.js';
import { VirtualList } from '../../../ui/VirtualList.js';
import styles from './Apart.module.css';
import { holdsQuery } from './apart-queries.js';
import { type HeldOrder, heldGroups } from './held-order.js';

/** Everything that is held back, by age, by reason or by who may lift it; what is condemned and still here; what lies in quarantine unheld. */
export function HeldBackScreen() {
  const holds = useQuery(holdsQuery);
  return (
    <>
      <PageHead
        title="Held back and condemned"
        note="What may not be used, why, since when, and who may lift it. Nothing here is free for a job."
        acts={<ButtonLink href="/stores">All of Stores</ButtonLink>}
      />
      {holds.isPending && <Waiting>Fetching what is held back …</Waiting>}
      {holds.isError && (
        <Failure error={holds.error} word="Not shown" choices={<Button onPress={() => void holds.refetch()}>Try again</Button>} />
      )}
      {holds.data !== undefined && <HoldsShown holds={holds.data} />}
    </>
  );
}

const ORDERS: readonly { value: HeldOrder; label: string }[] = [
  { value: 'age', label: 'the longest held first' },
  { value: 'reason', label: 'by reason' },
  { value: 'lifter', label: 'by who may lift it' },
  { value: 'day', label: 'by the day to look again' },
];

function HoldsShown({ holds }: { readonly holds: Holds }) {
  const [order, setOrder] = useState<HeldOrder>('age');
  const due = holds.held.filter(({ isDue }) => isDue).length;
  return (
    <>
      {holds.held.length > 0 && (
        <FieldPair>
          <SelectField label="In the order" value={order} choices={ORDERS} onChange={setOrder} />
        </FieldPair>
      )}
      {holds.held.length === 0 ? (
        <Section title="Held back">
          <Empty title="Nothing is held back">
            What may not be used yet is held back on its own page, or a whole place at once on the page of the place; each with
            its reason.
          </Empty>
        </Section>
      ) : (
        heldGroups(holds.held, order).map(({ title, held }) => (
          <Section
            key={title}
            title={title}
            aside={`${held.length}${due > 0 && order === 'age' ? `, ${due} to look at again` : ''}`}
          >
            <VirtualList label={title} items={held} itemKey={({ id }) => id} estimate={92}>
              {(thing) => <Held thing={thing} />}
            </VirtualList>
          </Section>
        ))
      )}
      {holds.unheld.length > 0 && (
        <Section title="In quarantine, and not held back" aside={`${holds.unheld.length}`}>
          <VirtualList label="In quarantine, and not held back" items={holds.unheld} itemKey={({ id }) => id} estimate={70}>
            {(thing) => (
              <div className={styles.row}>
                <Named thing={thing} />
                <span>Hold it back on its page, or put it away elsewhere.</span>
                <span className="quiet">{thing.where}</span>
              </div>
            )}
          </VirtualList>
        </Section>
      )}
      <Condemned things={holds.condemned} />
    </>
  );
}

function Named({ thing }: { readonly thing: Holds['unheld'][number] }) {
  return (
    <div>
      <Go href={`/stores/things/${thing.id}`}>
        <Code code={thing.code} size="row" /> <b>{thing.name}</b>
      </Go>
      <div className="quiet">
        {[thing.kind === 'lot' ? thing.quantity : thing.kind, thing.owner === null ? '' : `property of ${thing.owner.name}`]
          .filter(Boolean)
          .join(', ')}
      </div>
    </div>
  );
}

function Held({ thing }: { readonly thing: HeldThing }) {
  const { heldBack, days, isDue, claimed, inQuarantine, keptForOwner } = thing;
  return (
    <div className={styles.row}>
      <Named thing={thing} />
      <div>
        <b>{heldBack.reason}</b>
        <div className="quiet">
          {heldBack.by !== '' && `${heldBack.by}, `}
          {days === 0 ? 'today' : days === 1 ? 'for 1 day' : `for ${days} days`}
          {claimed !== '0' && `; ${claimed} reserved for a job`}
        </div>
      </div>
      <div>
        <span>{keptForOwner ? 'lifted when its keeping ends' : `lifted by ${heldBack.mayLiftWords}`}</span>
        {heldBack.lookAgainOn !== null && (
          <div className={classNames(isDue && styles.due)}>
            {isDue ? <b>look again, {sayDay(heldBack.lookAgainOn)}</b> : `look again on ${sayDay(heldBack.lookAgainOn)}`}
          </div>
        )}
      </div>
      <span className="quiet">
        {thing.where}
        {!inQuarantine && ', not in quarantine'}
      </span>
    </div>
  );
}

function Condemned({ things }: { readonly things: readonly CondemnedThing[] }) {
  if (things.length === 0) return null;
  const open = things.filter(({ keptAs }) => keptAs === null).length;
  return (
    <Section title="Condemned, and still here" aside={open === 0 ? `${things.length}` : `${open} to be disposed of`}>
      <VirtualList label="Condemned, and still here" items={things} itemKey={({ id }) => id} estimate={92}>
        {(thing) => (
          <div className={styles.row}>
            <Named thing={thing} />
            <div>
              <b>{thing.reason === '' ? 'condemned' : thing.reason}</b>
              <div className="quiet">
                {thing.by}
                {thing.pictures === 0 && '; no photograph'}
              </div>
            </div>
            <b>{thing.keptAs ?? 'to be disposed of'}</b>
            <span className="quiet">{thing.where}</span>
          </div>
        )}
      </VirtualList>
    </Section>
  );
}
