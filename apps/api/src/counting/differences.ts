import type { CountDifferences, CountLine } from '@corewright/contracts/counting';
import { decimalFrom, formatDecimal, zero } from '@corewright/quantities/decimal';
import { formatMoney, type Money, noMoney } from '@corewright/quantities/money';
import { Injectable } from '@nestjs/common';
import { oursOf } from '../people/workshop.js';
import type { Reader } from '../platform/database/database.js';
import { ClaimantNames } from '../stores/later-names.js';
import { openClaims } from '../stores/thing.queries.js';
import { canBeTakenBack } from './decide/can-be-taken-back.js';
import { needsTyping } from './decide/decide-line.js';
import { offersOf, whyOf } from './decide/offers.js';
import { doubtsOf } from './find/doubts.queries.js';
import { type CountFacts, keyOf, type LastDecision } from './line.queries.js';
import { type Line, readLines, takenOf } from './lines.js';
import { worthOf } from './worth-of-difference.js';

const kinds = { U: 'unit', L: 'lot', C: 'component', X: 'unsorted' } as const;
const order: readonly CountLine['state'][] = [
  'missing',
  'short',
  'lies elsewhere by the books',
  'found',
  'counted twice',
  'to be keyed once more',
  'no number keyed',
  'taken back meanwhile',
  'to be counted again',
  'agrees',
];

/** The lines of a count as whoever posts it sees them, with what they are worth. */
@Injectable()
export class Differences {
  constructor(private readonly claimants: ClaimantNames) {}

  async of(reader: Reader, count: { id: string; partId: string | null }): Promise<CountDifferences> {
    const currency = await oursOf(reader);
    const { lines, facts, notClosed } = await readLines(reader, count);
    const doubts = await doubtsOf(reader, count.id);
    const shown = lines.filter(({ state, decided }) => state !== 'agrees' || decided !== null);
    const answers: CountLine[] = [];
    let [worth, unknownWorth] = [noMoney, 0];
    for (const line of shown) {
      const amount = await worthOfLine(reader, line);
      if (line.isOpen && amount !== null) worth = (worth + amount) as Money;
      if (line.isOpen && amount === null) unknownWorth += 1;
      const shownLine = await this.lineShown(reader, line, { facts, amount, currency });
      answers.push({ ...shownLine, doubts: doubts.get(keyOf(line)) ?? [] });
    }
    answers.sort((one, other) => rank(one) - rank(other) || order.indexOf(one.state) - order.indexOf(other.state));
    return {
      currency,
      lines: answers,
      agreed: lines.length - shown.length,
      open: lines.filter(({ isOpen }) => isOpen).length,
      notClosed,
      worth: formatMoney(worth, currency),
      unknownWorth,
    };
  }

  private async lineShown(
    reader: Reader,
    line: Line,
    { facts, amount, currency }: { facts: CountFacts; amount: Money | null; currency: string },
  ): Promise<Omit<CountLine, 'doubts'>> {
    const { thing, placeId, counted, decided } = line;
    const taken = takenOf(line);
    const place = facts.places.get(placeId);
    return {
      place: { id: placeId, code: place?.code ?? '', name: place?.name ?? '' },
      thing: { id: thing.id, code: thing.code, name: thing.name },
      kind: kinds[thing.kind],
      unitOfMeasure: thing.unitOfMeasure,
      owner: thing.owner,
      state: line.state,
      why: whyOf(line),
      entries: counted.standing.map(({ id, by, at, quantity, inOwnName }) => ({
        id,
        by,
        inOwnName,
        at: new Date(at).toISOString(),
        quantity: quantity === null ? null : formatDecimal(quantity),
      })),
      counts: distinct(
        counted.taken.map(({ quantity, words, books }) => ({
          quantity: formatDecimal(quantity),
          words,
          books: formatDecimal(books),
        })),
      ),
      counted: taken === null ? null : formatDecimal(taken.quantity),
      books: formatDecimal((taken ?? counted.taken[0])?.books ?? zero),
      difference: taken === null ? null : formatDecimal(taken.difference),
      elsewhere: line.elsewhere.map(({ placeId: id, words, quantity }) => ({ placeId: id, words, quantity })),
      worth: amount === null ? null : formatMoney(amount, currency),
      worthWords: worthWords(line, amount),
      claims: await this.claimsOn(reader, line),
      offered: offersOf(line),
      typed: counted.taken.some((each) => needsTyping(line, each)),
      decided: decided === null ? null : decidedShown(decided, line),
    };
  }

  private async claimsOn(reader: Reader, { thing }: Line): Promise<string[]> {
    if (decimalFrom(thing.claimed) === zero) return [];
    const claims = await openClaims(reader, thing.id);
    const names = await this.claimants.namesOf(
      reader,
      claims.map(({ claimantId }) => claimantId),
    );
    return claims.map(({ claimantId, claimantCode, quantity }) =>
      [`${quantity} for`, claimantCode ?? '', names.get(claimantId) ?? ''].filter(Boolean).join(' '),
    );
  }
}

const rank = ({ decided, offered }: CountLine): number => Number(decided !== null) + Number(offered.length === 0);

const decidedWords: Record<LastDecision['decision'], string> = {
  posted: 'posted',
  moved: 'moved here',
  missing: 'marked as not found',
  again: 'to be counted again',
  left: 'left as it is',
  'taken back': 'taken back',
};

function decidedShown({ id, decision, by, at, why }: LastDecision, { state, isTray }: Line): NonNullable<CountLine['decided']> {
  const isPart = state !== 'agrees' && (decision === 'posted' || decision === 'moved');
  const words = [`${decidedWords[decision]}${isPart ? ' in part' : ''}`, why].filter(Boolean).join(': ');
  return { id, words, by, at, canBeTakenBack: canBeTakenBack(decision, isTray) };
}

function distinct<Choice extends { quantity: string; books: string }>(choices: readonly Choice[]): Choice[] {
  return choices.filter(
    ({ quantity, books }, index) => choices.findIndex((each) => each.quantity === quantity && each.books === books) === index,
  );
}

async function worthOfLine(reader: Reader, line: Line): Promise<Money | null> {
  const taken = takenOf(line);
  if (taken === null || line.thing.ownerId !== null || !line.isOpen) return null;
  if (line.state === 'lies elsewhere by the books') return noMoney;
  return worthOf(reader, { thingId: line.thingId, difference: taken.difference });
}

function worthWords({ thing, state, isOpen }: Line, amount: Money | null): string {
  if (!isOpen) return '';
  if (thing.ownerId !== null) return `It is ${thing.owner ?? 'a customer'}’s, so it is no cost of ours.`;
  if (state === 'lies elsewhere by the books') return 'A move costs nothing.';
  if (amount !== null) return state === 'found' ? 'Its part of what was written off before.' : 'Its part of what the lot cost.';
  if (state === 'found' || state === 'short' || state === 'missing') return 'Nobody knows what it cost, which is not nothing.';
  return 'Not reckoned while nobody can say how many there are.';
}
