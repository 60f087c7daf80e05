import type { CoreAge, CoreAges } from '@corewright/contracts/core-ages';
import { addMonths } from '@corewright/quantities/plain-date';
import { Injectable } from '@nestjs/common';
import { WorkshopClock } from '../../people/workshop.js';
import { Database } from '../../platform/database/database.js';
import { invariant } from '../../platform/refusal.js';
import { agingCores, type CoreRow, reviewMarks } from './core-age.queries.js';
import { isDue, type MarksKept, monthsBetween, standingOf } from './core-standing.js';

/** More than anybody looks through at once. */
const coresMax = 2000;

/** How long cores have lain in the yard, and which of them somebody is to look through. */
@Injectable()
export class CoreAgeing {
  constructor(
    private readonly database: Database,
    private readonly clock: WorkshopClock,
  ) {}

  async ages(): Promise<CoreAges> {
    const [on, marks, rows] = await Promise.all([
      this.clock.today(),
      reviewMarks(this.database),
      agingCores(this.database, coresMax + 1),
    ]);
    invariant(marks, 'the marks came with the migration');
    const cores = rows.slice(0, coresMax).map((row) => ageOf(row, marks, on));
    return {
      on,
      marks,
      nextOffered: addMonths(on, marks.firstMonths),
      cores,
      due: cores.filter(({ standing }) => isDue(standing)).length,
      more: rows.length > coresMax,
    };
  }
}

function ageOf({ typeId, typeName, words, loadNumber, ...row }: CoreRow, marks: MarksKept, today: string): CoreAge {
  return {
    ...row,
    name: typeName ?? (words === '' ? 'Unit, not yet identified' : words),
    unitType: typeId === null ? null : { id: typeId, name: typeName ?? '' },
    sinceWords: loadNumber === null ? 'in the books since' : `bought with load ${loadNumber}`,
    months: monthsBetween(row.since, today),
    ...standingOf(row.since, row.review?.nextOn ?? null, marks, today),
  };
}
