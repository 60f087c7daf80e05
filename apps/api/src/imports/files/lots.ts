import { Make, PacketCondition, type PacketDate, Source } from '@corewright/contracts/base';
import { BearingPacking, BearingStore, type PreserveLot } from '@corewright/contracts/stores';
import { readPacketDate } from '@corewright/quantities/packet-date';
import { newId } from '../../platform/new-id.js';
import { addLot, type LotFacts } from '../../stores/new-things.js';
import { preserve, whyNotPreserved } from '../../stores/preserve-lot/preserve.js';
import { arrive, loadIn } from '../arrive.js';
import type { Books } from '../books.js';
import { containerIn, keepContainer } from '../containers.js';
import { columns, type FileReader } from '../file-reader.js';
import { holdBack, holdIn } from '../holds.js';
import type { KnownPart } from '../known-numbers.js';
import { worthIn } from '../load-costs.js';
import { makerIn, ownerIn, partIn } from '../lookups.js';
import { placeIn } from '../places-tree.js';
import type { Row } from '../row.js';

/** So many of one part with the same facts: where from, whose make, how old, in what condition. */
export const lots: FileReader = {
  file: 'lots',
  columns: columns(
    'reference!',
    'load',
    'maker',
    'number',
    'words',
    'quantity!',
    'source',
    'make',
    'lot_maker',
    'marks',
    'condition',
    'packet_date',
    'packet_condition',
    'bearing_packing',
    'bearing_store',
    'place',
    'owner',
    'held_back',
    'note',
    'worth',
    'use_by',
    'opened',
    'opened_on',
    'held_by',
    'may_lift',
    'look_again_on',
  ),
  key: ['reference'],
  numberColumns: ['number'],
  async read(row, books) {
    const reference = row.number('reference');
    const load = await loadIn(row, books);
    const part = await partOfLot(row, books);
    const quantity = part === undefined ? null : row.quantity('quantity', part?.unit ?? 'each');
    const facts = await factsOf(row, books, part ?? null);
    const preserved = preservedIn(row, part ?? null);
    const ownerId = await ownerIn(row, books);
    const placeId = await placeIn(row, 'place', books);
    const worth = await worthIn(row, books);
    const hold = await holdIn(row, books);
    const container = containerIn(row, quantity);
    if (row.faulty || load === undefined || placeId === null || quantity === null || facts === null) return null;
    if (await books.referred('lots', reference)) return 'unchanged';
    const thingId = newId();
    await addLot(books.transaction, thingId, ownerId, facts);
    if (preserved.packing !== null) preserve(books.transaction, thingId, preserved);
    await arrive(books, { thingId, quantity, load, ownerId, placeId, worth });
    if (!(await keepContainer(row, books, thingId, container))) return null;
    if (hold !== null) await holdBack(books, thingId, hold);
    await books.refer('lots', reference, thingId);
    return 'added';
  },
};

/** Null for a lot that nobody has named yet; undefined, with a fault, where what is said of it does not hold. */
async function partOfLot(row: Row, books: Books): Promise<KnownPart | null | undefined> {
  const [maker, number] = [row.cell('maker'), row.cell('number')];
  if (maker !== '' && number !== '') return (await partIn(row, 'maker', 'number', books)) ?? undefined;
  if (maker !== '' || number !== '')
    row.fault(
      maker === '' ? 'maker' : 'number',
      'A part is known by its maker and number together. Give both, or neither and say in words what it is.',
    );
  else if (row.cell('words') === '')
    row.fault('words', 'Nobody has said what this is. Give maker and number, or say in words what it looks like.');
  else return null;
  return undefined;
}

async function factsOf(row: Row, books: Books, part: KnownPart | null): Promise<LotFacts | null> {
  const source = row.choice('source', Source.options, 'unknown');
  const make = row.choice('make', Make.options, 'unknown');
  const packetCondition = row.choice('packet_condition', PacketCondition.options, 'none');
  const packet = packetOf(row, books, part);
  const makerId = row.cell('lot_maker') === '' ? null : await makerIn(row, 'lot_maker', books);
  const words = {
    words: row.text('words'),
    marks: row.text('marks'),
    condition: row.text('condition'),
    note: row.longText('note'),
  };
  if (source === null || make === null || packetCondition === null || packet === null) return null;
  return { partId: part?.id ?? null, source, make, makerId, packet, packetCondition, ...words };
}

/** How a bearing is preserved, by the rule of the screen. */
function preservedIn(row: Row, part: KnownPart | null): PreserveLot {
  const said = (column: string) => row.cell(column) !== '';
  const preserved = {
    packing: said('bearing_packing') ? row.choice('bearing_packing', BearingPacking.options) : null,
    store: said('bearing_store') ? row.choice('bearing_store', BearingStore.options) : null,
  };
  const not = row.faulty ? null : whyNotPreserved(preserved, part?.material ?? null);
  if (not !== null) row.refused(preserved.packing === null ? 'bearing_store' : 'bearing_packing', not);
  return preserved;
}

function packetOf(row: Row, books: Books, part: KnownPart | null): PacketDate | null {
  const read = readPacketDate(row.text('packet_date'), {
    material: part?.material === 'rubber' ? 'rubber' : 'other',
    today: books.today,
  });
  return read.ok ? read.value : row.fault('packet_date', read.error.sentence);
}
