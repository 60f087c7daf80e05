import type { LoadCost } from '@corewright/contracts/costs';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useKeepsBooks } from '../../api/session.js';
import { Acts, Button } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { sayMoney } from '../../ui/say-money.js';
import { sayInstant } from '../../ui/say-when.js';
import { type Column, Table } from '../../ui/Table.js';
import { type Fact, TitleBlock } from '../../ui/TitleBlock.js';
import styles from './CostSection.module.css';
import { loadCostQuery, sayNotKnown, useKeepWorth, useShareCost } from './cost-actions.js';
import { PaidForm } from './PaidForm.js';
import { ShareForm } from './ShareForm.js';
import { OutOfDate, Sharings } from './Sharings.js';

/** What a load cost and whom it is shared over. The figures are for those who keep the books; nobody else asks for them. */
export function CostSection({ loadId }: { readonly loadId: string }) {
  return useKeepsBooks() ? <KeptCost loadId={loadId} /> : null;
}

function KeptCost({ loadId }: { readonly loadId: string }) {
  const cost = useQuery(loadCostQuery(loadId));
  if (cost.data !== undefined) return <CostShown cost={cost.data} />;
  return (
    <Section title="What it cost">
      {cost.isPending ? <Waiting>Fetching what it cost …</Waiting> : <Failure error={cost.error} word="Not shown" />}
    </Section>
  );
}

function CostShown({ cost }: { readonly cost: LoadCost }) {
  const [isKeying, setKeying] = useState(false);
  const last = cost.sharings[0];
  return (
    <>
      <Section title="What it cost" aside={last === undefined ? 'not shared yet' : `shared ${sayInstant(last.at, new Date())}`}>
        <div className={styles.stack}>
          <TitleBlock facts={factsOf(cost)} />
          {isKeying ? (
            <PaidForm key={cost.version} cost={cost} onClose={() => setKeying(false)} />
          ) : (
            <Acts>
              <Button look={cost.price === null ? 'main' : 'usual'} onPress={() => setKeying(true)}>
                {cost.price === null ? 'Key what was paid' : 'Change what was paid'}
              </Button>
            </Acts>
          )}
          <OutOfDate reasons={cost.outOfDate} />
          {cost.cost !== null && cost.rows.length > 0 && <Sharing cost={cost} />}
          {cost.sharings.length > 0 && <Sharings cost={cost} />}
        </div>
      </Section>
      {cost.said.length > 0 && (
        <Section title="Said and found" aside="what the seller said beside what came">
          <Table caption="Said and found" columns={FOUND} rows={cost.found} rowKey={(each) => each.words} />
        </Section>
      )}
    </>
  );
}

function Sharing({ cost }: { readonly cost: LoadCost }) {
  return <ShareForm cost={cost} label="Share what it cost" keepWorth={useKeepWorth(cost.id)} share={useShareCost(cost.id)} />;
}

function factsOf(cost: LoadCost): readonly Fact[] {
  const part = (label: string, amount: string | null): Fact => ({
    label,
    value: amount === null ? 'not known' : sayMoney(amount, cost.paidIn),
  });
  const isForeign = cost.paidIn !== cost.ours;
  const gaps = cost.cost === null ? '' : sayNotKnown(cost.notKnown);
  return [
    part('Price', cost.price),
    part('Haulage', cost.haulage),
    part('Fees', cost.fees),
    ...(isForeign && cost.paid !== null
      ? [{ label: `Together, ${cost.paidIn}`, value: sayMoney(cost.paid, cost.paidIn), note: `at ${cost.rate}` }]
      : []),
    {
      label: isForeign ? `Came to, ${cost.ours}` : 'Together',
      value: cost.cost === null ? 'not known' : sayMoney(cost.cost, cost.ours),
      note: gaps === '' ? undefined : `so far: ${gaps}`,
    },
  ];
}

const FOUND: readonly Column<LoadCost['found'][number]>[] = [
  { key: 'words', head: 'what', isLead: true, width: '40%', cell: (each) => each.words },
  { key: 'said', head: 'said', isNumeric: true, cell: (each) => each.said ?? <span className="quiet">no word</span> },
  { key: 'found', head: 'found', isNumeric: true, cell: (each) => each.found ?? <span className="quiet">nobody can say</span> },
  {
    key: 'difference',
    head: 'difference',
    isWide: true,
    cell: (each) => (each.agrees ? <span className="quiet">{each.difference}</span> : <b>{each.difference}</b>),
  },
];
