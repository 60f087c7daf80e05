import type { LoadCost, SaidLine } from '@corewright/contracts/costs';
import { convertMoney, formatMoney, parseMoney, parseRate, sumMoney } from '@corewright/quantities/money';
import { useState } from 'react';
import { FieldPair, Form } from '../../ui/Form.js';
import { FormFoot } from '../../ui/FormFoot.js';
import { sayMoney } from '../../ui/say-money.js';
import { TextField } from '../../ui/TextField.js';
import { useEditCost } from './cost-actions.js';
import { type KeyedLine, SaidFields } from './SaidFields.js';

/** What was paid for a load, and what was said to be in it. */
export function PaidForm({ cost, onClose }: { readonly cost: LoadCost; readonly onClose: () => void }) {
  const [price, setPrice] = useState(cost.price ?? '');
  const [haulage, setHaulage] = useState(cost.haulage ?? '');
  const [fees, setFees] = useState(cost.fees ?? '');
  const [currency, setCurrency] = useState(cost.paidIn);
  const [rate, setRate] = useState(cost.rate);
  const [lines, setLines] = useState<readonly KeyedLine[]>(() => linesOf(cost));
  const [wasTried, setWasTried] = useState(false);
  const change = useEditCost(cost, onClose);
  const isForeign = currency !== cost.ours;
  const said = lines.filter((line) => line.words.trim() !== '').map(saidLine);
  const miscounted = said.some((line) => line === null);
  const submit = () => {
    setWasTried(true);
    if (miscounted || change.isPending) return;
    const keyedLines = said.filter((line) => line !== null);
    change.mutate({ price, haulage, fees, currency, rate: isForeign ? rate : '', said: keyedLines });
  };
  const came = isForeign ? cameTo([price, haulage, fees], currency, cost.ours, rate) : null;
  return (
    <Form label="What was paid" onSubmit={submit}>
      <FieldPair>
        <TextField
          label="Price"
          value={price}
          onChange={setPrice}
          inputMode="decimal"
          note="empty while nobody knows it"
          maxLength={40}
          autoFocus
        />
        <TextField
          label="Haulage"
          value={haulage}
          onChange={setHaulage}
          inputMode="decimal"
          note="0 where there was none; empty while nobody knows"
          maxLength={40}
        />
        <TextField
          label="Fees"
          value={fees}
          onChange={setFees}
          inputMode="decimal"
          note="of the sale room, of the bank; 0 where there were none"
          maxLength={40}
        />
        <TextField
          label="Currency"
          value={currency}
          onChange={(text) => setCurrency(text.toUpperCase())}
          note={`in which all of it was paid; ours is ${cost.ours}`}
          maxLength={3}
        />
        {isForeign && (
          <TextField
            label={`What 1 ${currency} came to, in ${cost.ours}`}
            value={rate}
            onChange={setRate}
            inputMode="decimal"
            note={came === null ? 'the rate that was paid' : `it comes to ${came}`}
            maxLength={24}
          />
        )}
      </FieldPair>
      <SaidFields lines={lines} onChange={setLines} wasTried={wasTried} />
      <FormFoot act="Keep it" failed="Not kept" sending={change} onClose={onClose} />
    </Form>
  );
}

function linesOf(cost: LoadCost): readonly KeyedLine[] {
  return cost.said.map((line, index) => ({ ...line, key: index, count: String(line.quantity) }));
}

/** Null where the count is none. */
function saidLine({ words, count, unitTypeId, partId }: KeyedLine): SaidLine | null {
  if (!/^[1-9]\d{0,4}$/.test(count.trim())) return null;
  return { words: words.trim(), quantity: Number(count), unitTypeId, partId };
}

/** What it comes to in ours as keyed so far; null while a figure of it cannot be read. */
function cameTo(keyed: readonly string[], currency: string, ours: string, rate: string): string | null {
  const read = parseRate(rate);
  const amounts = keyed.filter((text) => text.trim() !== '').map((text) => parseMoney(text, currency));
  if (!read.ok || !/^[A-Z]{3}$/.test(currency) || amounts.length === 0) return null;
  const sums = amounts.flatMap((amount) => (amount.ok ? [amount.value] : []));
  if (sums.length < amounts.length) return null;
  return sayMoney(formatMoney(convertMoney(sumMoney(sums), currency, ours, read.value), ours), ours);
}
