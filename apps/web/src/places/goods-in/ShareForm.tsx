import type { CostRow, LoadCost, RowShare, ShareLoadCost, SharingWay } from '@corewright/contracts/costs';
import { formatMoney, type Money, noMoney, parseMoney, subtractMoney, sumMoney } from '@corewright/quantities/money';
import type { UseMutationResult } from '@tanstack/react-query';
import { useState } from 'react';
import { Acts, Button } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Form } from '../../ui/Form.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { RadioRow } from '../../ui/RadioRow.js';
import { sayMoney } from '../../ui/say-money.js';
import { type Column, Table } from '../../ui/Table.js';
import { TextField } from '../../ui/TextField.js';
import styles from './CostSection.module.css';
import { WAYS, type WorthField } from './cost-actions.js';
import { FigureCell } from './FigureCell.js';

/** A cost that is shared: of a load over what came with it, of a unit or a box over what came out of it. */
export type SharedCost = Pick<LoadCost, 'ours' | 'cost' | 'rows' | 'offers' | 'sharings'>;

export interface ShareFormProps {
  readonly cost: SharedCost;
  /** of the form, for ears */
  readonly label: string;
  readonly keepWorth: (rowId: string, field: WorthField, text: string) => Promise<void>;
  readonly share: Pick<UseMutationResult<unknown, Error, ShareLoadCost>, 'mutate' | 'isPending' | 'isError' | 'error'>;
}

/** The rows with what each is worth and weighs, what each would bear by the way chosen, and the act that writes it. */
export function ShareForm({ cost, label, keepWorth, share: change }: ShareFormProps) {
  const [way, setWay] = useState<SharingWay>(cost.sharings[0]?.way ?? 'relative value');
  const [named, setNamed] = useState<ReadonlyMap<string, string>>(() => sharesToBeginWith(cost));
  const [why, setWhy] = useState('');
  const offer = cost.offers.find((each) => each.way === way);
  const byHand = way === 'by hand' ? handShares(cost, named) : null;
  const obstacle = byHand === null ? (offer?.obstacle ?? null) : byHand.obstacle;
  const shares = byHand === null ? (offer?.shares ?? null) : byHand.shares;
  const submit = () => {
    if (shares !== null && obstacle === null && !change.isPending)
      change.mutate({ way, shares, why }, { onSuccess: () => setWhy('') });
  };
  const columns: readonly Column<CostRow>[] = [
    ...ROW_FACTS,
    {
      key: 'worth',
      head: `worth, ${cost.ours}`,
      isNumeric: true,
      cell: (row) =>
        row.bearsNone === null && (
          <FigureCell
            label={`worth of row ${row.position}`}
            value={row.worth ?? ''}
            placeholder="not known"
            onKeep={(text) => keepWorth(row.id, 'worth', text)}
          />
        ),
    },
    {
      key: 'weight',
      head: 'weighs, kg',
      isNumeric: true,
      cell: (row) =>
        row.bearsNone === null && (
          <FigureCell
            label={`weight of row ${row.position}`}
            value={row.weightByType ? '' : (row.weightKg ?? '')}
            placeholder={row.weightByType ? `${row.weightKg} by type` : 'not known'}
            onKeep={(text) => keepWorth(row.id, 'weightKg', text)}
          />
        ),
    },
    { key: 'now', head: 'bears now', isNumeric: true, cell: (row) => <BearsNow row={row} currency={cost.ours} /> },
    {
      key: 'then',
      head: way === 'by hand' ? `share, ${cost.ours}` : 'would bear',
      isNumeric: true,
      cell: (row) =>
        row.bearsNone !== null ? (
          <span className="quiet">{row.bearsNone}</span>
        ) : way === 'by hand' ? (
          <FigureCell
            label={`share of row ${row.position}`}
            value={named.get(row.id) ?? ''}
            onKeep={async (text) => setNamed((before) => new Map(before).set(row.id, text))}
          />
        ) : (
          <WouldBear share={shares?.find((each) => each.rowId === row.id)} currency={cost.ours} />
        ),
    },
  ];
  return (
    <div className={styles.stack}>
      <RadioRow label="Share it by" value={way} choices={WAYS} onChange={setWay} />
      <Table caption="What each row bears" columns={columns} rows={cost.rows} rowKey={(row) => row.id} />
      {obstacle !== null && (
        <p className={styles.left} role="status">
          {obstacle}
        </p>
      )}
      <Form label={label} onSubmit={submit}>
        <TextField
          label="Why it is shared so"
          value={why}
          onChange={setWhy}
          note="may stay empty; it stays on the record"
          maxLength={200}
        />
        {change.isError && (
          <Failure error={change.error} word="Not shared" kept="Nothing was written; look at the shares as they are now." />
        )}
        <Acts>
          <Button look="main" type="submit" isPending={change.isPending} isDisabled={obstacle !== null}>
            {cost.sharings.length === 0 ? 'Share it so' : 'Share it again so'}
          </Button>
        </Acts>
      </Form>
    </div>
  );
}

const ROW_FACTS: readonly Column<CostRow>[] = [
  {
    key: 'what',
    head: 'what it is',
    isLead: true,
    width: '34%',
    cell: (row) => (
      <>
        {row.position}.{' '}
        <Go href={`/stores/things/${row.id}`}>
          <Code code={row.code} size="row" />
        </Go>{' '}
        {row.name}
        {row.quantity !== '1' && `, ${row.quantity} of it`}
      </>
    ),
  },
];

function BearsNow({ row, currency }: { readonly row: CostRow; readonly currency: string }) {
  if (row.share !== null) return <>{sayMoney(row.share, currency)}</>;
  return <span className="quiet">nothing yet</span>;
}

function WouldBear({ share, currency }: { readonly share: RowShare | undefined; readonly currency: string }) {
  if (share === undefined) return <span className="quiet">cannot be said</span>;
  return <b>{sayMoney(share.amount, currency)}</b>;
}

/** By hand begins with what is borne now, else with what the worths come to. */
function sharesToBeginWith(cost: SharedCost): ReadonlyMap<string, string> {
  const byWorth = cost.offers.find((offer) => offer.way === 'relative value')?.shares ?? [];
  const worths = new Map(byWorth.map((share) => [share.rowId, share.amount]));
  const borne = cost.rows.some((row) => row.share !== null);
  return new Map(cost.rows.map((row) => [row.id, (borne ? row.share : worths.get(row.id)) ?? '']));
}

interface HandShares {
  readonly shares: RowShare[] | null;
  /** what is wrong or left, in words; null where they add up */
  readonly obstacle: string | null;
}

/** What is keyed by hand, and what is left of the cost while it is keyed. The server looks at it again. */
function handShares(cost: SharedCost, named: ReadonlyMap<string, string>): HandShares {
  const shares: RowShare[] = [];
  const amounts: Money[] = [];
  for (const row of cost.rows.filter((each) => each.bearsNone === null)) {
    const text = named.get(row.id) ?? '';
    if (text === '') continue;
    const read = parseMoney(text, cost.ours);
    if (!read.ok) return { shares: null, obstacle: `Row ${row.position}: ${read.error.sentence}` };
    amounts.push(read.value);
    shares.push({ rowId: row.id, amount: formatMoney(read.value, cost.ours) });
  }
  const whole = parseMoney(cost.cost ?? '', cost.ours);
  if (!whole.ok) return { shares: null, obstacle: whole.error.sentence };
  const left = subtractMoney(whole.value, sumMoney(amounts));
  const said = (amount: Money) => sayMoney(formatMoney(amount, cost.ours), cost.ours);
  if (left > noMoney) return { shares: null, obstacle: `${said(left)} is left to be named.` };
  if (left < noMoney) return { shares: null, obstacle: `${said(subtractMoney(noMoney, left))} too much is named.` };
  const unnamed = cost.rows.find((row) => row.bearsNone === null && (named.get(row.id) ?? '') === '');
  if (unnamed !== undefined)
    return { shares: null, obstacle: `Row ${unnamed.position} has no share. Key 0 where it is to bear nothing.` };
  return { shares, obstacle: null };
}
