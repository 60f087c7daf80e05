import type { Sale, SalePreview } from '@corewright/contracts/selling';
import { formatMoney, parseMoney, sumMoney } from '@corewright/quantities/money';
import { useQuery } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { asProblem } from '../../../api/problem.js';
import { useWorksWithThings } from '../../../api/session.js';
import { resolve } from '../../../scan/resolve.js';
import { useScanTaker } from '../../../scan/scanning.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { ComboField } from '../../../ui/ComboField.js';
import { Empty } from '../../../ui/Empty.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { Failure } from '../../../ui/Problem.js';
import { PageHead, Section } from '../../../ui/Section.js';
import { sayMoney } from '../../../ui/say-money.js';
import { TextField } from '../../../ui/TextField.js';
import { useSelling } from './actions.js';
import styles from './Counter.module.css';
import { JobsLose } from './JobsLose.js';
import { findBuyers, findGoods, salePreviewQuery } from './queries.js';
import {
  emptyReceipt,
  isQuantity,
  keepReceipt,
  type LineKeyed,
  type ReceiptDraft,
  recallReceipt,
  withLine,
  withoutLine,
  withThing,
} from './receipt-draft.js';
import { SellLine } from './SellLine.js';

export interface SellScreenProps {
  /** the code of what is to be sold, as its own page sends it; empty for none */
  readonly code: string;
  readonly onSold: (saleId: string) => void;
}

/** A counter sale: what is scanned here stands on this receipt; what it takes from jobs is told before it is sold. */
export function SellScreen({ code, onSold }: SellScreenProps) {
  const maySell = useWorksWithThings();
  const [draft, setDraft] = useState<ReceiptDraft>(recallReceipt);
  useEffect(() => keepReceipt(draft), [draft]);
  const fault = useScannedOnto(setDraft, code);
  const asked = draft.lines
    .filter(({ quantity }) => isQuantity(quantity))
    .map(({ thingId, quantity }) => ({ thingId, quantity }));
  const preview = useQuery(salePreviewQuery(asked));
  const told = asked.length === 0 ? undefined : preview.data;
  const sold = (sale: Sale) => {
    setDraft(emptyReceipt());
    keepReceipt(emptyReceipt());
    onSold(sale.id);
  };
  if (!maySell) return <PageHead title="Counter sale" note="Only those who work with things sell." />;
  return (
    <>
      <PageHead
        title="Counter sale"
        note="Scan what is sold, or find it. Each label stands on the receipt once; scanned again, it is one more."
        acts={<ButtonLink href="/stores/sales">What was sold</ButtonLink>}
      />
      <FindGoods onFound={(thing) => setDraft((before) => withThing(before, thing))} />
      {fault !== null && <Failure error={fault} word="Not put on the receipt" />}
      {draft.lines.length === 0 ? (
        <Empty title="Nothing stands on this receipt yet">
          Scan the label of a lot, a component or a unit, or find it above.
        </Empty>
      ) : (
        <OnThisReceipt draft={draft} preview={told} error={preview.error} onChange={setDraft} onSold={sold} />
      )}
    </>
  );
}

/** A scan here puts a thing on the receipt, whatever the mode. */
function useScannedOnto(setDraft: (change: (before: ReceiptDraft) => ReceiptDraft) => void, first: string): Error | null {
  const [fault, setFault] = useState<Error | null>(null);
  const [taken, setTaken] = useState('');
  const add = (code: string) =>
    resolve(code).then(
      ({ answer }) => {
        setFault(null);
        setDraft((before) => withThing(before, { thingId: answer.id, code: answer.code, name: answer.name }));
      },
      (thrown: unknown) => setFault(asProblem(thrown)),
    );
  useScanTaker((parsed) => {
    if (!['U', 'L', 'C'].includes(parsed.kind)) return false;
    void add(parsed.code);
    return true;
  });
  useEffect(() => {
    if (first === '' || taken === first) return;
    setTaken(first);
    void resolve(first).then(({ answer }) =>
      setDraft((before) =>
        before.lines.some(({ thingId }) => thingId === answer.id)
          ? before
          : withThing(before, { thingId: answer.id, code: answer.code, name: answer.name }),
      ),
    );
  }, [first, taken, setDraft]);
  return fault;
}

function FindGoods({ onFound }: { readonly onFound: (thing: Pick<LineKeyed, 'thingId' | 'code' | 'name'>) => void }) {
  const [text, setText] = useState('');
  return (
    <ComboField
      label="Put on this receipt"
      text={text}
      onText={setText}
      onChoose={({ id, label, number = '' }) => {
        onFound({ thingId: id, code: number, name: label });
        setText('');
      }}
      source={findGoods}
      note="a part number, a name or a code; or scan it"
    />
  );
}

interface OnThisReceiptProps {
  readonly draft: ReceiptDraft;
  readonly preview: SalePreview | undefined;
  readonly error: Error | null;
  readonly onChange: (change: (before: ReceiptDraft) => ReceiptDraft) => void;
  readonly onSold: (sale: Sale) => void;
}

function OnThisReceipt({ draft, preview, error, onChange, onSold }: OnThisReceiptProps) {
  const selling = useSelling(onSold);
  const put = (more: Partial<ReceiptDraft>) => onChange((before) => ({ ...before, ...more }));
  const takes = preview?.lines.some((line) => line.takes.length > 0) ?? false;
  const send = () => {
    if (selling.isPending || preview === undefined) return;
    const { id, lines, firmId, buyer, paid, note, takeReason } = draft;
    const told = preview.jobs.flatMap((job) => job.lines.map(({ lineId }) => lineId));
    const sent = lines.map(({ thingId, quantity, price, letGo }) => ({ thingId, quantity, price, letGo }));
    selling.mutate({ id, lines: sent, buyerId: firmId, buyer: firmId === null ? buyer : '', paid, note, told, takeReason });
  };
  return (
    <>
      {/* the lines have forms of their own, and a scanner's Enter in one of their fields sells nothing */}
      <Section title="On this receipt" aside={draft.lines.length === 1 ? '1 line' : `${draft.lines.length} lines`}>
        <ul>
          {draft.lines.map((line) => (
            <SellLine
              key={line.thingId}
              line={line}
              currency={preview?.currency ?? ''}
              shown={preview?.lines.find(({ thing }) => thing.id === line.thingId)}
              onChange={(more) => onChange((before) => withLine(before, line.thingId, more))}
              onStrike={() => onChange((before) => withoutLine(before, line.thingId))}
              onAdd={(thing) => onChange((before) => withThing(before, thing))}
            />
          ))}
        </ul>
        <p className={styles.total}>
          <span>Total</span> <b>{totalOf(draft, preview?.currency)}</b>
        </p>
      </Section>
      {error !== null && preview === undefined && <Failure error={error} word="Not looked up" kept="What you keyed is kept." />}
      {preview !== undefined && <JobsLose jobs={preview.jobs} />}
      <Form label="Counter sale" onSubmit={send}>
        {takes && (
          <TextField
            label="Why it is taken from the jobs that reserved it"
            value={draft.takeReason}
            onChange={(takeReason) => put({ takeReason })}
            note="it stays on the record of each job, with your name"
            maxLength={200}
          />
        )}
        <BuyerFields draft={draft} onChange={put} />
        {selling.isError && <Failure error={selling.error} word="Not sold" kept="What you keyed is kept." />}
        <Acts>
          <Button look="main" type="submit" isPending={selling.isPending} isDisabled={preview === undefined}>
            {(preview?.jobs.length ?? 0) > 0 || takes ? 'Sell it all the same' : 'Sell it'}
          </Button>
          <Button look="plain" onPress={() => onChange(() => emptyReceipt())}>
            Strike all of it out
          </Button>
        </Acts>
      </Form>
    </>
  );
}

function BuyerFields({
  draft,
  onChange,
}: {
  readonly draft: ReceiptDraft;
  readonly onChange: (more: Partial<ReceiptDraft>) => void;
}) {
  return (
    <>
      <FieldPair>
        <ComboField
          label="Sold to"
          text={draft.buyer}
          onText={(buyer) => onChange({ buyer, firmId: null })}
          onChoose={({ id, label }) => onChange({ buyer: label, firmId: id })}
          source={findBuyers}
          note="a name, or a firm of the books; it may stay empty"
        />
        <TextField
          label="How it is paid"
          value={draft.paid}
          onChange={(paid) => onChange({ paid })}
          note="in words: cash, by transfer, next week"
          maxLength={200}
        />
      </FieldPair>
      <TextField
        label="What else the receipt says"
        value={draft.note}
        onChange={(note) => onChange({ note })}
        note="it may stay empty"
        maxLength={200}
      />
    </>
  );
}

/** What the prices come to, as far as they can be read. */
function totalOf({ lines }: ReceiptDraft, currency: string | undefined): string {
  if (currency === undefined) return '…';
  const prices = lines.flatMap(({ price }) => {
    const read = parseMoney(price, currency);
    return read.ok ? [read.value] : [];
  });
  const sum = sayMoney(formatMoney(sumMoney(prices), currency), currency);
  const left = lines.length - prices.length;
  return left === 0 ? sum : `${sum}, and ${left === 1 ? 'a price' : `${left} prices`} to key`;
}
