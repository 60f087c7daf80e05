import {
  type ComponentYieldShown,
  notGraded,
  type YieldChoices,
  type Yields,
  type YieldsQuery,
} from '@corewright/contracts/yields';
import { coresToBuy, enoughToSay, inHundred, yieldOf } from '@corewright/yields/component-yield';
import { Injectable } from '@nestjs/common';
import { Database } from '../../platform/database/database.js';
import { type YieldRow, yieldChoices, yieldRows } from './yield.queries.js';

/** More than anybody reads; a type has some dozens of components. */
const shownMax = 120;

/** Answers how often the components of cores were serviceable, and how many cores to buy for one that is. */
@Injectable()
export class YieldAnswer {
  constructor(private readonly database: Database) {}

  async of({ type, grade, load, seller, wanted }: YieldsQuery): Promise<Yields> {
    const asked = {
      typeId: type ?? null,
      grade: grade === notGraded ? '' : (grade ?? null),
      loadId: load ?? null,
      sellerId: seller ?? null,
    };
    const rows = await yieldRows(this.database, asked, enoughToSay, shownMax + 1);
    return {
      components: rows.slice(0, shownMax).map((row) => shownOf(row, wanted)),
      more: rows.length > shownMax,
      stripDowns: rows[0]?.stripDowns ?? 0,
      wanted,
    };
  }

  async choices(): Promise<YieldChoices> {
    const choices = await yieldChoices(this.database);
    return { ...choices, grades: choices.grades.map((grade) => (grade === '' ? notGraded : grade)) };
  }
}

function shownOf(row: YieldRow, wanted: number): ComponentYieldShown {
  const { looked, serviceable, afterWork, eachHas } = row;
  const enough = looked >= enoughToSay;
  const share = inHundred(yieldOf({ serviceable, looked }));
  return {
    unitType: { id: row.typeId, name: row.typeName },
    position: row.position,
    name: row.name,
    part: row.partId === null ? null : { id: row.partId, name: row.partName ?? '', number: row.partNumber ?? '' },
    eachHas,
    looked,
    serviceable,
    afterWork,
    inHundred: share,
    enough,
    cores: enough ? coresToBuy({ serviceable, looked }, wanted, eachHas) : null,
    words: wordsOf(row, share, enough),
  };
}

function wordsOf({ looked, serviceable }: YieldRow, share: ComponentYieldShown['inHundred'], enough: boolean): string {
  if (looked === 0) return 'Nobody has looked at one yet.';
  const counted = `${serviceable} of ${looked} that were looked at ${serviceable === 1 ? 'was' : 'were'} serviceable`;
  if (!enough) return `${counted}: not enough looked at to say.`;
  return `${counted}: between ${share.least} and ${share.most} in 100; expect ${share.mean}.`;
}
