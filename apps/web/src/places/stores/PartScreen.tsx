import type { PartPage } from '@corewright/contracts/catalogue';
import { useQuery } from '@tanstack/react-query';
import { useKeepsBooks } from '../../api/session.js';
import { Acts, Button } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Critical } from '../../ui/Critical.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead, Section } from '../../ui/Section.js';
import { sayDay } from '../../ui/say-when.js';
import { type Column, Table } from '../../ui/Table.js';
import { TitleBlock } from '../../ui/TitleBlock.js';
import { useOneForm } from '../../ui/use-one-form.js';
import { PartConsumable } from './consumables/PartConsumable.js';
import { KeptForJobsSection } from './counter/KeptForJobs.js';
import { CountMarkSection } from './counting/CountMarkSection.js';
import { HistorySection } from './history/HistorySection.js';
import { MayServeSection, Superseded } from './MayServeSection.js';
import { AddNumberForm, EditPartForm } from './PartForms.js';
import { partQuery } from './queries.js';

type LotRow = PartPage['lots'][number];

const LOTS: readonly Column<LotRow>[] = [
  { key: 'code', head: 'lot', isLead: true, width: '132px', cell: (lot) => <LotLink lot={lot} /> },
  { key: 'held', head: 'held', isNumeric: true, width: '70px', cell: (lot) => lot.held },
  {
    key: 'claimed',
    head: 'claimed',
    isNumeric: true,
    width: '76px',
    cell: (lot) => (lot.claimed === '0' ? <span className="quiet">none</span> : lot.claimed),
  },
  { key: 'source', head: 'source, make', cell: (lot) => `${lot.source}, ${lot.make}` },
  { key: 'packet', head: 'packet', isWide: true, cell: (lot) => <LotAge lot={lot} /> },
  { key: 'where', head: 'where', cell: (lot) => (lot.isMissing ? `${lot.places}: not found` : lot.places) },
  { key: 'owner', head: 'owner', cell: (lot) => lot.owner ?? 'ours' },
];

const NUMBERS: readonly Column<PartPage['numbers'][number]>[] = [
  { key: 'number', head: 'number', isLead: true, cell: (number) => <span className="pn">{number.number}</span> },
  { key: 'maker', head: 'of', cell: (number) => number.maker },
  { key: 'years', head: 'years', cell: (number) => yearsOf(number) },
  { key: 'main', head: 'which', cell: (number) => (number.isMain ? 'the number it goes by' : '') },
];

const RECEIPTS: readonly Column<PartPage['receipts'][number]>[] = [
  { key: 'order', head: 'order', isLead: true, cell: (receipt) => receipt.orderReference },
  { key: 'supplier', head: 'from', cell: (receipt) => receipt.supplier },
  { key: 'quantity', head: 'quantity', isNumeric: true, cell: (receipt) => receipt.quantity },
  { key: 'due', head: 'due', cell: (receipt) => (receipt.dueOn === null ? 'no day said' : sayDay(receipt.dueOn)) },
  { key: 'confirmed', head: 'confirmed', cell: (receipt) => (receipt.confirmed ? 'confirmed' : 'not confirmed') },
];

const USES: readonly Column<PartPage['usedIn'][number]>[] = [
  { key: 'type', head: 'unit type', isLead: true, cell: (use) => use.unitType.name },
  { key: 'line', head: 'line', isNumeric: true, cell: (use) => use.lineNo },
  { key: 'quantity', head: 'quantity', isNumeric: true, cell: (use) => use.quantity },
  { key: 'critical', head: 'critical', cell: (use) => use.critical && <Critical stops={false} /> },
];

/** A part: every number it has, what is held and where, what is coming, what it is used in. */
export function PartScreen({ partId }: { readonly partId: string }) {
  const part = useQuery(partQuery(partId));
  if (part.isPending) return <Waiting>Fetching the part …</Waiting>;
  if (part.data === undefined)
    return (
      <Failure error={part.error} word="Not shown" choices={<Button onPress={() => void part.refetch()}>Try again</Button>} />
    );
  return <PartShown part={part.data} />;
}

function PartShown({ part }: { readonly part: PartPage }) {
  const main = part.numbers.find((number) => number.isMain) ?? part.numbers[0];
  const mayChange = useKeepsBooks();
  const { which, open, close } = useOneForm<'edit' | 'number'>();
  return (
    <>
      <PageHead
        title={`${main === undefined ? '' : `${main.number}, `}${part.name}`}
        note={part.description === '' ? undefined : part.description}
        acts={mayChange && which !== 'edit' && <Button onPress={() => open('edit')}>Change what it is</Button>}
      />
      {which === 'edit' && <EditPartForm part={part} onClose={close} />}
      <TitleBlock
        facts={[
          { label: 'Goes by', value: main?.number ?? 'no number', note: main?.maker },
          { label: 'Called in the shop', value: part.nicknames === '' ? 'nothing else' : part.nicknames },
          { label: 'Material', value: part.material, note: part.polymer === '' ? undefined : part.polymer },
          { label: 'Counted in', value: part.unitOfMeasure },
        ]}
      />
      {part.successor !== null && <Superseded successor={part.successor} />}
      <Section title="In stores" aside={part.lots.length === 1 ? '1 lot' : `${part.lots.length} lots`}>
        {part.lots.length === 0 ? (
          <Empty title="None held">
            No lot of this part is in stores. What is on order stands below; what was bought and is not in the books yet is keyed
            in Goods-in.
          </Empty>
        ) : (
          <Table caption="Lots of this part" columns={LOTS} rows={part.lots} rowKey={(lot) => lot.id} />
        )}
      </Section>
      <PartConsumable partId={part.id} unitOfMeasure={part.unitOfMeasure} />
      <MayServeSection part={part} />
      <KeptForJobsSection of={{ partId: part.id }} isSold />
      <CountMarkSection partId={part.id} />
      <Section title="On order">
        {part.receipts.length === 0 ? (
          <p className="quiet">Nothing is on order.</p>
        ) : (
          <Table caption="On order" columns={RECEIPTS} rows={part.receipts} rowKey={(receipt) => receipt.id} />
        )}
      </Section>
      <Section title="Numbers" aside={`${part.numbers.length}`}>
        <Table
          caption="Numbers of this part"
          columns={NUMBERS}
          rows={part.numbers}
          rowKey={(number) => `${number.maker} ${number.number}`}
        />
        {mayChange &&
          (which === 'number' ? (
            <AddNumberForm part={part} onClose={close} />
          ) : (
            <Acts>
              <Button onPress={() => open('number')}>Add a number</Button>
            </Acts>
          ))}
      </Section>
      <Section title="Used in">
        {part.usedIn.length === 0 ? (
          <p className="quiet">No unit type lists it.</p>
        ) : (
          <Table
            caption="Unit types that use it"
            columns={USES}
            rows={part.usedIn}
            rowKey={(use) => `${use.unitType.id} ${use.lineNo}`}
          />
        )}
      </Section>
      <HistorySection of="part" id={part.id} />
    </>
  );
}

function LotLink({ lot }: { readonly lot: LotRow }) {
  return (
    <Go href={`/stores/things/${lot.id}`}>
      <Code code={lot.code} size="row" />
    </Go>
  );
}

function LotAge({ lot }: { readonly lot: LotRow }) {
  return (
    <>
      {lot.packet === '' ? 'unknown' : lot.packet}
      {lot.condemned && <b>; condemned</b>}
      {lot.heldBack !== null && !lot.condemned && <b>; held back: {lot.heldBack}</b>}
      {lot.storageLife.state !== 'no limit' && lot.storageLife.state !== 'in life' && (
        <span className="quiet">; {lot.storageLife.sentence}</span>
      )}
    </>
  );
}

function yearsOf(number: { yearFirst: number | null; yearLast: number | null }): string {
  if (number.yearFirst === null && number.yearLast === null) return '';
  return `${number.yearFirst ?? '…'} to ${number.yearLast ?? '…'}`;
}
