import type { CoveredLine, CoverShare, CoverState } from '@corewright/contracts/coverage';
import { type JobKit, type KitOffer, type KitState, type KitSum, type KitWait, kitStates } from '@corewright/contracts/pick-list';
import { type Decimal, decimalFrom, formatDecimal, subtractDecimals, sumDecimals, zero } from '@corewright/quantities/decimal';
import type { UnitOfMeasure } from '@corewright/quantities/unit-of-measure';
import { grouped } from '../grouped.js';
import { type Fetch, isOffer, partAsked } from './fetches.js';
import type { JobToKit } from './pick-list.queries.js';

const states: Readonly<Record<CoverState, KitState>> = {
  fitted: 'in the unit',
  're-used': 'in the unit',
  picked: 'in the tray',
  reserved: 'to fetch',
  'not yet looked at': 'not yet looked at',
  'free in stores': 'to fetch',
  'at an outworker': 'at an outworker',
  'on order': 'on order',
  'from a core': 'from a core',
  lacking: 'lacking',
};

interface Share {
  line: CoveredLine;
  share: CoverShare;
  state: KitState;
}

/**
 * How far a job's tray is filled, and what it waits for.
 * @param unreached what it counts on and a scan cannot take: it lies in no place but a tray
 */
export function kitOfJob(job: JobToKit, lines: readonly CoveredLine[], unreached: readonly Fetch[]): JobKit {
  const needed = lines.filter(({ waived, consumable }) => waived === null && !consumable);
  const shares = needed.flatMap((line) => line.shares.map((share): Share => ({ line, share, state: stateOf(share) })));
  const sums = sumsOf(needed, shares, unreached);
  return {
    id: job.id,
    code: job.code,
    name: job.title,
    state: job.state,
    tray: { id: job.trayId, code: job.trayCode, name: job.trayName },
    kit: kitStateOf(sums),
    sums,
    waits: [...shares.flatMap(waitOf), ...unreached.map(outOfReach)],
    offers: shares.flatMap(offerOf),
    taken: takenOf(needed),
  };
}

function stateOf(share: CoverShare): KitState {
  return isOffer(share) ? 'offered' : states[share.state];
}

function sumsOf(lines: readonly CoveredLine[], shares: readonly Share[], unreached: readonly Fetch[]): KitSum[] {
  return [...grouped(lines, ({ part }) => part.unitOfMeasure)].map(([unitOfMeasure, alike]) => {
    const ofUnit = shares.filter(({ line }) => line.part.unitOfMeasure === unitOfMeasure);
    const missed = sumDecimals(unreached.filter((each) => each.unitOfMeasure === unitOfMeasure).map(({ quantity }) => quantity));
    const sum = (state: KitState): Decimal => {
      const inState = sumDecimals(ofUnit.filter((each) => each.state === state).map(({ share }) => decimalFrom(share.quantity)));
      if (state === 'out of reach') return missed;
      return state === 'to fetch' ? subtractDecimals(inState, missed) : inState;
    };
    return {
      unitOfMeasure: unitOfMeasure as UnitOfMeasure,
      needed: formatDecimal(sumDecimals(alike.map(({ needed }) => decimalFrom(needed)))),
      shares: kitStates
        .map((state) => ({ state, quantity: sum(state) }))
        .filter(({ quantity }) => quantity > zero)
        .map(({ state, quantity }) => ({ state, quantity: formatDecimal(quantity) })),
    };
  });
}

function kitStateOf(sums: readonly KitSum[]): JobKit['kit'] {
  const found = new Set(sums.flatMap(({ shares }) => shares.map(({ state }) => state)));
  const hasTray = found.delete('in the tray');
  found.delete('in the unit');
  if (found.size > 0) return hasTray ? 'partly kitted' : 'nothing in the tray';
  return hasTray ? 'kitted' : 'nothing needed';
}

const settled: readonly KitState[] = ['in the unit', 'in the tray', 'to fetch', 'offered'];

function waitOf({ line, share, state }: Share): KitWait[] {
  if (settled.includes(state)) return [];
  const part = partAsked(line);
  const words = [
    share.instead === null ? '' : `${share.instead.part.number || share.instead.part.name} in its place`,
    share.words,
  ]
    .filter((each) => each !== '')
    .join(': ');
  return [{ ...servedBy(line, share.quantity), part, unitOfMeasure: unitOf(line), state, thing: share.on, words }];
}

function outOfReach({ line, part, unitOfMeasure, thing, quantity, where }: Fetch): KitWait {
  const words = where === '' ? 'the books do not say where it lies' : `it lies in ${where}, from which no scan takes it`;
  return { ...line, quantity: formatDecimal(quantity), part, unitOfMeasure, state: 'out of reach', thing, words };
}

function offerOf({ line, share, state }: Share): KitOffer[] {
  if (state !== 'offered' || share.on === null || share.instead === null) return [];
  const { part: instead, words, conditions } = share.instead;
  return [
    {
      ...servedBy(line, share.quantity),
      part: partAsked(line),
      unitOfMeasure: unitOf(line),
      thing: share.on,
      instead,
      where: share.words,
      words: [words, conditions].filter((each) => each !== '').join(' '),
    },
  ];
}

function takenOf(lines: readonly CoveredLine[]): JobKit['taken'] {
  return lines.flatMap((line) => {
    const there = sumDecimals(
      line.shares.filter((share) => isThere(stateOf(share))).map(({ quantity }) => decimalFrom(quantity)),
    );
    return there > zero ? [servedBy(line, formatDecimal(there))] : [];
  });
}

function isThere(state: KitState): boolean {
  return state === 'in the unit' || state === 'in the tray';
}

function servedBy({ id, lineNo }: CoveredLine, quantity: string) {
  return { lineId: id, lineNo, quantity };
}

function unitOf({ part }: CoveredLine): UnitOfMeasure {
  return part.unitOfMeasure as UnitOfMeasure;
}
