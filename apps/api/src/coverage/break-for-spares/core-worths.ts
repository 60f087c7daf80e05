import type { Coded } from '@corewright/contracts/base';
import type { CoreAge, CoreWorth, CoreWorths } from '@corewright/contracts/core-ages';
import { addDecimals, type Decimal, decimalFrom, formatDecimal, zero } from '@corewright/quantities/decimal';
import { formatMoney, type Money } from '@corewright/quantities/money';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import { CoreAgeing } from '../../cores/ageing/core-ages.js';
import { type CountsOfComponent, countsOfTypes } from '../../cores/yields/yield.queries.js';
import { readWorkshop } from '../../people/workshop.js';
import { Database } from '../../platform/database/database.js';
import { invariant } from '../../platform/refusal.js';
import { entriesOf } from '../../stores/costs/value-ledger.js';
import { WorkshopCover } from '../workshop-cover.js';
import { type Paid, weighCore } from './weigh-core.js';
import { type ComponentOfType, componentsThatAre, lastPaidForParts, lastPaidForUnits, typeAndGrade } from './worth.queries.js';

interface Lacking {
  quantity: Decimal;
  jobs: z.infer<typeof Coded>[];
}

/** What is known for weighing any of the cores. */
interface Known {
  currency: string;
  own: ReadonlyMap<string, Money>;
  ofType: ReadonlyMap<string, Paid>;
  ofPart: ReadonlyMap<string, Paid>;
  lacking: ReadonlyMap<string, Lacking>;
  components: readonly ComponentOfType[];
  counts: readonly CountsOfComponent[];
}

/** What each core in the yard is worth whole, as far as anybody knows, against what open jobs lack of what it has. */
@Injectable()
export class CoreWorthsAnswer {
  constructor(
    private readonly database: Database,
    private readonly cover: WorkshopCover,
    private readonly ageing: CoreAgeing,
  ) {}

  async all(): Promise<CoreWorths> {
    const workshop = await readWorkshop(this.database);
    invariant(workshop, 'a workshop was set up before it had cores');
    const { cores } = await this.ageing.ages();
    const lacking = await this.lackingParts();
    const typeIds = [...new Set(cores.flatMap(({ unitType }) => unitType?.id ?? []))];
    const [own, ofType, components, counts] = await Promise.all([
      entriesOf(
        this.database,
        cores.map(({ id }) => id),
      ),
      lastPaidForUnits(this.database, typeIds),
      componentsThatAre(this.database, typeIds, [...lacking.keys()]),
      countsOfTypes(this.database, typeIds),
    ]);
    const ofPart = await lastPaidForParts(this.database, [...new Set(components.map(({ part }) => part.id))]);
    const known = { currency: workshop.currency, own, ofType, ofPart, lacking, components, counts };
    return { currency: workshop.currency, cores: cores.map((core) => worthOf(core, known)) };
  }

  /** By the part: what open jobs lack of it, exactly that part, or could have only from a core. */
  private async lackingParts(): Promise<Map<string, Lacking>> {
    const lacking = new Map<string, Lacking>();
    const { jobs, lines } = await this.cover.ofAll(this.database);
    for (const { id, code, title: name } of jobs)
      for (const { part, shares } of lines.get(id) ?? [])
        for (const { quantity } of shares.filter(({ state }) => state === 'lacking' || state === 'from a core')) {
          const before = lacking.get(part.id) ?? { quantity: zero, jobs: [] };
          const others = before.jobs.filter((job) => job.id !== id);
          lacking.set(part.id, {
            quantity: addDecimals(before.quantity, decimalFrom(quantity)),
            jobs: [...others, { id, code, name }],
          });
        }
    return lacking;
  }
}

function worthOf(core: CoreAge, known: Known): CoreWorth {
  const { currency, lacking, components, counts, ofPart } = known;
  const whole = wholeOf(core, known);
  const ofCore = components.filter(({ typeId }) => typeId === core.unitType?.id);
  const weighed = weighCore(
    whole.amount,
    ofCore.map(({ typeId, position, eachHas, part }) => {
      const seen = counts.find((count) => count.typeId === typeId && count.position === position);
      return {
        partId: part.id,
        eachHas: decimalFrom(eachHas),
        lacking: lacking.get(part.id)?.quantity ?? zero,
        serviceable: seen?.serviceable ?? 0,
        looked: seen?.looked ?? 0,
        paid: ofPart.get(part.id) ?? null,
      };
    }),
  );
  const shown = (amount: Money | null) => (amount === null ? null : formatMoney(amount, currency));
  return {
    id: core.id,
    whole: shown(whole.amount),
    wholeWords: whole.words,
    wanted: weighed.wanted.map(({ pieces, worth, words }, index) => {
      const { part } = ofCore[index]!;
      return { part, pieces: formatDecimal(pieces), jobs: lacking.get(part.id)?.jobs ?? [], worth: shown(worth), words };
    }),
    spares: shown(weighed.spares),
    isBetterBroken: weighed.isBetterBroken,
    words: weighed.words,
  };
}

/** What it cost; else what was last paid for one like it; else nobody knows. */
function wholeOf({ id, unitType, grade }: CoreAge, { own, ofType }: Known): { amount: Money | null; words: string } {
  const cost = own.get(id);
  if (cost !== undefined) return { amount: cost, words: 'what it cost' };
  const like = unitType === null ? undefined : ofType.get(typeAndGrade(unitType.id, grade));
  if (like === undefined)
    return { amount: null, words: 'not known: no cost of it is written, nor of another of its type and grade' };
  return { amount: like.amount, words: 'what was last paid for one of its type and grade; what it cost itself is not known' };
}
