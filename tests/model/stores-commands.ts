import { newId } from '../../apps/api/src/platform/new-id.js';
import type { Verdict } from './naive-balances.js';
import { many, type NaiveGoods } from './naive-books.js';
import type { Decision, NaiveCount, NaiveDecision } from './naive-count.js';
import type { Label, NaiveSale } from './naive-stores.js';
import type { Sent, StoresScene } from './stores-scene.js';

/** A command by numbers; which lot, place or act they mean is settled when it is given, by what is there then. */
export interface Step {
  kind: Kind;
  lot: number;
  other: number;
  place: number;
  quantity: number;
  way: number;
  /** look for what it may be done with, so that refusals do not crowd out the rest */
  suited: boolean;
}

type Given = Promise<[Sent, Verdict] | null>;
type Give = (giving: Giving, step: Step) => Given;

export const kinds = [
  ...['take in', 'put away', 'pick', 'take back', 'hold', 'lift', 'condemn', 'not there', 'found', 'post away'],
  ...['replace label', 'further label', 'split', 'merge', 'move contents', 'carry', 'un-kit', 'sell', 'take sale back'],
  ...['key row', 'correct row', 'strike row', 'open container', 'empty container', 'begin count', 'take place', 'count'],
  ...['close place', 'decide', 'take decision back', 'end count'],
] as const;
export type Kind = string;

/** Gives commands to the server and to the naive stores. */
export class Giving {
  /** by the naive thing that they are of: what the server calls it */
  readonly saleIds = new Map<NaiveSale, { id: string; lineId: string }>();
  readonly decisionIds = new Map<NaiveDecision, string>();
  private readonly voided: string[] = [];

  constructor(readonly scene: StoresScene) {}

  give(step: Step): Given {
    this.scene.naive.command += 1;
    return gives[step.kind]!(this, step);
  }

  get naive() {
    return this.scene.naive;
  }

  /** One that suits, where the step asks for that and there is one; else any that was not made part of another. */
  lot({ lot, suited }: Step, suits: (lot: NaiveGoods) => boolean): NaiveGoods | null {
    const all = [...this.naive.lots.values()].filter(({ labels }) => labels.length > 0);
    const some = suited ? all.filter(suits) : [];
    return all.length === 0 ? null : at(some.length > 0 ? some : all, lot);
  }

  place({ place }: Step): { id: string; code: string } {
    return at(this.scene.made.places, place);
  }

  /** A place in which a count is, where the step asks for one that suits. */
  placeIn(step: Step, count: NaiveCount | null): { id: string; code: string } {
    const { places } = this.scene.made;
    const around = step.suited ? (count?.placeId ?? null) : null;
    const inside = around === null ? places : places.filter(({ id }) => this.naive.isInside(id, around));
    return at(inside.length > 0 ? inside : places, step.place);
  }

  /** A new label, a blank one, one that something bears, or the code of another kind. */
  label({ way, other }: Step): Label | null {
    const { blanks, places } = this.scene.made;
    const borne = [...this.naive.lots.values()].flatMap(({ labels }) => labels);
    const code = [
      () => null,
      () => at(blanks, other),
      () => at(blanks, other + 7),
      () => at(borne, other),
      () => at(places, other).code,
    ];
    const chosen = at(code, way)();
    return chosen === null ? null : { code: chosen, isBlank: blanks.includes(chosen) && !this.voided.includes(chosen) };
  }

  putOut(code: string): void {
    this.voided.push(code);
  }

  count({ other, suited }: Step): NaiveCount | null {
    const { counts } = this.scene.counts;
    const { open } = this.scene.counts;
    return counts.length === 0 ? null : at(suited && open.length > 0 ? open : counts, other);
  }

  person({ way }: Step): { name: string; by: Giving['scene']['shop']['owner'] } {
    const { owner, other } = this.scene.shop;
    return way % 4 === 0 ? { name: 'other', by: other } : { name: 'owner', by: owner };
  }
}

const at = <T>(list: readonly T[], number: number): T => list[number % list.length]!;
const keyed = ({ quantity, way }: Step): number | undefined => (way % 2 === 0 ? undefined : quantity);
const inStores = (giving: Giving) => (lot: NaiveGoods) => giving.naive.inPlaces(lot) > 0;

/** Something that is done with a lot under its id. */
function onLot(
  suits: (giving: Giving) => (lot: NaiveGoods) => boolean,
  command: (giving: Giving, step: Step, lot: NaiveGoods) => [path: string, body: object, naive: () => Verdict],
): Give {
  return async (giving, step) => {
    const lot = giving.lot(step, suits(giving));
    if (lot === null) return null;
    const [path, body, naive] = command(giving, step, lot);
    return [await giving.scene.send('POST', path, body), naive()];
  };
}

const gives: Record<Kind, Give> = {
  'take in': async ({ scene, naive }, step) => {
    const id = newId();
    const { parts, customer, loadId } = scene.made;
    const owner = step.other % 5 === 0 ? customer : null;
    const [partId, placeId, { quantity }] = [at(parts, step.lot), at(scene.made.places, step.place).id, step];
    const row = {
      kind: 'lot',
      position: 1,
      partId,
      quantity: String(quantity),
      ownerName: owner?.name ?? '',
      placeId,
      source: 'new',
      make: 'genuine',
    };
    const sent = await scene.send('PUT', `/api/loads/${loadId}/rows/${id}`, row);
    const verdict = naive.takeIn(id, { partId, ownerId: owner?.id ?? null, quantity, placeId });
    if (verdict !== null) naive.lot(id).labels = [String(sent.body.code)];
    return [sent, verdict];
  },
  'put away': onLot(inStores, (giving, step, lot) => {
    const [placeId, quantity] = [giving.place(step).id, keyed(step)];
    const body = { code: lot.labels[0], placeId, ...(quantity === undefined ? {} : { quantity: String(quantity) }) };
    return ['/api/put-aways', body, () => giving.naive.putAway(lot.id, placeId, quantity)];
  }),
  pick: onLot(
    ({ naive }) =>
      (lot) =>
        naive.needed.has(lot.partId) && lot.ownerId === null && naive.inPlaces(lot) > 0,
    ({ naive, scene }, step, lot) => {
      const [quantity, haveItHere] = [keyed(step), step.other % 4 === 0];
      const many = quantity === undefined ? {} : { quantity: String(quantity) };
      const body = { code: lot.labels[0], jobId: scene.made.jobId, haveItHere, ...many };
      return ['/api/picks', body, () => naive.pick(lot.id, quantity, haveItHere)];
    },
  ),
  'take back': async ({ scene, naive }, { lot, suited }) => {
    const open = naive.steps.filter(
      ({ reason, takenBack }) => !takenBack && ['picked', 'put away', 'moved together'].includes(reason),
    );
    const all = suited && open.length > 0 ? open.slice(-4) : naive.steps;
    if (all.length === 0) return null;
    const step = at(all, lot);
    const sent = await scene.send('POST', `/api/acts/${scene.movementIds.get(step)}/take-back`, {});
    return [sent, naive.takeBack(step)];
  },
  hold: onLot(inStores, ({ naive }, _, { id }) => [
    `/api/things/${id}/hold`,
    { reason: 'crack detection' },
    () => naive.hold(id, true),
  ]),
  lift: onLot(
    () => (lot) => lot.heldBack,
    ({ naive }, _, { id }) => [`/api/things/${id}/hold-lift`, { reason: 'crack detection' }, () => naive.hold(id, false)],
  ),
  condemn: onLot(inStores, ({ naive }, _, { id }) => [
    `/api/things/${id}/condemnation`,
    { reason: 'cracked', noPicture: 'the camera is out' },
    () => naive.condemn(id),
  ]),
  'not there': onLot(inStores, (giving, step, { id }) => {
    const placeId = step.way % 2 === 0 ? null : giving.place(step).id;
    return [`/api/things/${id}/not-there`, { placeId }, () => giving.naive.notThere(id, placeId)];
  }),
  found: onLot(
    () => (lot) => lot.missing,
    (giving, step, { id }) => {
      const placeId = giving.place(step).id;
      return [`/api/things/${id}/found`, { placeId }, () => giving.naive.found(id, placeId)];
    },
  ),
  'post away': onLot(
    () => (lot) => lot.missing,
    ({ naive }, _, { id }) => [`/api/things/${id}/posting-away`, { reason: 'never seen again' }, () => naive.postAway(id)],
  ),
  'replace label': relabel('replacement', { was: 'lost', note: '' }),
  'further label': relabel('further', { why: 'one for the paperwork' }),
  split: async (giving, step) => {
    const lot = giving.lot(step, (each) => giving.naive.inPlaces(each) > 1);
    if (lot === null) return null;
    const shelves = giving.naive.shelves(lot);
    const placeId = step.suited && shelves.length > 0 ? shelves[0]![0] : giving.place(step).id;
    const own = lot.labels.length > 1 && step.other % 2 === 0 ? { code: lot.labels.at(-1)!, isBlank: false } : null;
    const label = own ?? giving.label(step);
    const id = newId();
    const body = { id, quantity: String(step.quantity), placeId, code: label?.code ?? null, why: 'two bags' };
    const sent = await giving.scene.send('POST', `/api/things/${lot.id}/splitting`, body);
    const made = () => ({ id, code: String((sent.body.lot as { code: string }).code) });
    return [sent, giving.naive.split(lot.id, step.quantity, placeId, label, made)];
  },
  merge: onLot(inStores, (giving, step, lot) => {
    const same = (each: NaiveGoods) => each !== lot && each.partId === lot.partId && each.ownerId === lot.ownerId;
    const other = giving.lot({ ...step, lot: step.other }, (each) => same(each) && each.facts === lot.facts);
    const into = at(other!.labels, step.way);
    return [`/api/things/${lot.id}/merging`, { into, why: 'one bag' }, () => giving.naive.merge(lot.id, into)];
  }),
  'move contents': async ({ scene, naive }, { lot, place }) => {
    const { places } = scene.made;
    const from = lot % 7 === 0 ? naive.trayId : at(places, lot).id;
    const to = at(places, place).id;
    return [await scene.send('POST', '/api/contents-moves', { fromPlaceId: from, toPlaceId: to }), naive.moveContents(from, to)];
  },
  carry: async ({ scene, naive }, { lot, place }) => {
    const all = [...naive.places.keys()];
    const bins = all.slice(3);
    const [placeId, parentId] = [at(bins, lot), at(all, place)];
    return [await scene.send('POST', `/api/places/${placeId}/carrying`, { parentId }), naive.carry(placeId, parentId)];
  },
  'un-kit': onLot(
    ({ naive }) =>
      (lot) =>
        many(lot, naive.trayId) > 0,
    (giving, step, { id }) => {
      const placeId = giving.place(step).id;
      const rows = [{ thingId: id, placeId, quantity: String(step.quantity) }];
      const body = { id: newId(), claims: 'given up', rows };
      return [`/api/jobs/${giving.scene.made.jobId}/un-kits`, body, () => giving.naive.unKit(id, step.quantity, placeId)];
    },
  ),
  sell: async (giving, step) => {
    const lot = giving.lot(step, (each) => inStores(giving)(each) && each.ownerId === null);
    if (lot === null) return null;
    const [id, takeReason] = [newId(), step.way % 2 === 0 ? 'they asked first' : ''];
    const lines = [{ thingId: lot.id, quantity: String(step.quantity), price: '10' }];
    const sent = await giving.scene.send('POST', '/api/sales', { id, lines, told: giving.scene.made.lineIds, takeReason });
    const verdict = giving.naive.sell(lot.id, step.quantity, takeReason);
    const [line] = (sent.body.lines ?? []) as { id: string }[];
    if (verdict !== null && line !== undefined) giving.saleIds.set(giving.naive.sales.at(-1)!, { id, lineId: line.id });
    return [sent, verdict];
  },
  'take sale back': async (giving, step) => {
    const { sales } = giving.naive;
    if (sales.length === 0) return null;
    const sale = at(sales, step.lot);
    const { id, lineId } = giving.saleIds.get(sale)!;
    const quantity = step.suited ? sale.quantity - sale.back : step.quantity;
    const placeId = giving.place(step).id;
    const body = {
      id: newId(),
      lineId,
      quantity: String(quantity),
      placeId,
      why: 'the wrong side',
      givenBack: '0',
      fitted: false,
    };
    const sent = await giving.scene.send('POST', `/api/sales/${id}/taking-back`, body);
    return [sent, giving.naive.takeSaleBack(sale, quantity, placeId)];
  },
  'key row': async ({ scene, naive }, step) => {
    const id = newId();
    const [partId, placeId] = [at(scene.made.parts, step.lot), at(scene.made.places, step.place).id];
    const row = { kind: 'lot', placeId, partId, words: '', count: String(step.quantity) };
    const sent = await scene.send('PUT', `/api/opening/rows/${id}`, row);
    const verdict = naive.keyRow(id, partId, step.quantity, placeId);
    if (verdict !== null) naive.lot(id).labels = [String(sent.body.code)];
    return [sent, verdict];
  },
  'correct row': async (giving, step) => {
    const lot = rowOf(giving, step);
    if (lot === null) return null;
    const row = { kind: 'lot', placeId: lot.row!.placeId, partId: lot.partId, words: '', count: String(step.quantity) };
    const version = await versionOf(giving, lot);
    const sent = await giving.scene.send('PUT', `/api/opening/rows/${lot.id}`, row, undefined, version);
    return [sent, giving.naive.correctRow(lot.id, step.quantity)];
  },
  'strike row': async (giving, step) => {
    const lot = rowOf(giving, step);
    if (lot === null) return null;
    const version = await versionOf(giving, lot);
    const path = `/api/opening/rows/${lot.id}/strike`;
    return [await giving.scene.send('POST', path, { reason: 'keyed twice' }, undefined, version), giving.naive.strikeRow(lot.id)];
  },
  'open container': async (giving, step) => {
    const lot = giving.lot(step, (each) => each.partId === giving.naive.consumableId && inStores(giving)(each));
    if (lot === null) return null;
    const sent = await giving.scene.send('POST', `/api/things/${lot.id}/opening`, { openedOn: null });
    return [sent, giving.naive.openOne(lot.id, () => sent.body.thing as { id: string; code: string })];
  },
  'empty container': onLot(
    () => (lot) => lot.container === 'open',
    ({ naive }, _, { id }) => [`/api/things/${id}/container-end`, { how: 'empty' }, () => naive.empty(id)],
  ),
  'begin count': async ({ scene }, step) => {
    const id = newId();
    const isOfPart = step.way % 3 === 0;
    const around = [...scene.naive.places.keys()];
    const placeId = isOfPart ? null : at([...around, around[0]!, around[1]!], step.place);
    const of = { placeId, partId: isOfPart ? at(scene.made.parts, step.lot) : null };
    return [await scene.send('POST', '/api/counts', { id, ...of }), scene.counts.begin(id, of)];
  },
  'take place': async (giving, step) => {
    const count = giving.count(step);
    const [place, who] = [giving.placeIn(step, count), giving.person(step)];
    if (count === null) return null;
    const sent = await giving.scene.send('POST', '/api/count-places', { code: place.code, countId: count.id }, who.by);
    return [sent, giving.scene.counts.take(count, place.id, who.name)];
  },
  count: async (giving, step) => {
    const count = giving.count(step);
    const [place, who] = [giving.placeIn(step, count), giving.person(step)];
    const lot = giving.lot(step, (each) => many(each, place.id) > 0 || step.way % 2 === 0);
    if (count === null || lot === null) return null;
    // now and then a label of which the books know nothing
    const code = step.other % 11 === 0 ? at(giving.scene.made.blanks, step.lot) : lot.labels[0]!;
    const quantity = step.other % 3 > 0 ? many(lot, place.id) : step.quantity;
    const inOwnName = step.place % 2 === 0;
    const body = { code, placeId: place.id, countId: count.id, quantity: String(quantity), inOwnName };
    const sent = await giving.scene.send('POST', '/api/count-entries', body, who.by);
    return [sent, giving.scene.counts.enter(count, place.id, code, quantity, who.name, inOwnName)];
  },
  'close place': async (giving, step) => {
    const [count, who] = [giving.count(step), giving.person(step)];
    if (count === null) return null;
    const taken = [...count.takings].map((key) => key.split(' ')[0]!);
    const placeId = step.suited && taken.length > 0 ? at(taken, step.place) : giving.place(step).id;
    const inOwnName = step.lot % 2 === 0;
    const sent = await giving.scene.send('POST', '/api/count-closings', { placeId, countId: count.id, inOwnName }, who.by);
    return [sent, giving.scene.counts.close(count, placeId, who.name, inOwnName)];
  },
  decide: async (giving, step) => {
    const { scene } = giving;
    const count = giving.count(step);
    const lines = count === null ? [] : scene.counts.lines(count);
    const open = lines.filter(({ isOpen }) => isOpen);
    if (count === null || lines.length === 0) return null;
    const line = at(step.suited && open.length > 0 ? open : lines, step.lot);
    const usual: Decision[] = { elsewhere: ['move' as const], missing: ['missing' as const] }[line.state as string] ?? [];
    const decision = at<Decision>([...usual, 'post', 'post', 'again', 'leave', 'move', 'missing'], step.way);
    const why = step.quantity > 1 ? 'lent to Ida' : '';
    const [taken] = line.taken;
    const seen = taken === undefined ? {} : { counted: String(taken.quantity), books: String(taken.books) };
    const each = { placeId: line.placeId, thingId: line.lot.id, decision, why, ...seen };
    const sent = await scene.send('POST', `/api/counts/${count.id}/decisions`, { lines: [each] });
    const verdict = scene.counts.decide(count, line, decision, why);
    if (verdict !== null) giving.decisionIds.set(count.decisions.at(-1)!, await decisionOf(giving, sent.key));
    return [sent, verdict];
  },
  'take decision back': async (giving, step) => {
    const count = giving.count(step);
    const all = count?.decisions.filter(({ kind }) => kind !== 'taken back') ?? [];
    if (count === null || all.length === 0) return null;
    const decision = at(all, step.lot);
    const path = `/api/count-decisions/${giving.decisionIds.get(decision)}/take-back`;
    return [await giving.scene.send('POST', path, { why: 'another bag' }), giving.scene.counts.takeBack(count, decision)];
  },
  'end count': async (giving, step) => {
    const count = giving.count(step);
    if (count === null) return null;
    const ending = step.way % 4 === 0 ? ('given up' as const) : ('posted' as const);
    const sent = await giving.scene.send('POST', `/api/counts/${count.id}/end`, { ending, why: 'the bell rang' });
    return [sent, giving.scene.counts.end(count, ending)];
  },
};

function relabel(act: 'replacement' | 'further', words: object): Give {
  return async (giving, step) => {
    const lot = giving.lot(step, inStores(giving));
    if (lot === null) return null;
    const [code, label] = [at(lot.labels, step.place), giving.label(step)];
    const sent = await giving.scene.send('POST', `/api/labels/${code}/${act}`, { ...words, code: label?.code ?? null });
    const newCode = () => String(sent.body.code);
    if (act === 'further') return [sent, giving.naive.putFurther(code, label, newCode)];
    const verdict = giving.naive.replaceLabel(code, label, newCode);
    if (verdict !== null) giving.putOut(code);
    return [sent, verdict];
  };
}

function rowOf({ naive }: Giving, { lot, suited }: Step): NaiveGoods | null {
  const rows = [...naive.lots.values()].filter(({ row }) => row !== null);
  const open = rows.filter(({ row }) => !row!.struck);
  return rows.length === 0 ? null : at(suited && open.length > 0 ? open : rows, lot);
}

async function versionOf({ scene }: Giving, { id }: NaiveGoods): Promise<number> {
  const [row] = await scene.shop.stock.query<{ version: number }>('SELECT version FROM opening_rows WHERE thing_id = $1', [id]);
  return row!.version;
}

async function decisionOf({ scene }: Giving, key: string): Promise<string> {
  const [row] = await scene.shop.stock.query<{ id: string }>('SELECT id FROM count_decisions WHERE command_key = $1', [key]);
  return row?.id ?? '';
}
