import type { Act, JobScanDone, RefusalChoice, ScanRefusal, TakeBack, TakenBack } from '@corewright/contracts/bench';
import { decimalFrom, isWhole, one } from '@corewright/quantities/decimal';
import { Injectable, type OnModuleInit } from '@nestjs/common';
import type * as z from 'zod';
import { type ConsumablesAtBench, type ScanOfConsumable, UsesAtBench } from '../../bench/uses-at-bench.js';
import { WorkshopClock } from '../../people/workshop.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import type { Reader } from '../../platform/database/database.js';
import { badInput, done, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { codeOf } from '../../stores/place-words.js';
import type { UseStop } from './decide-use.js';
import { putUseRight, useOnJob, useRow } from './use-on-job.js';

const usesMost = 9999;

const choices: Record<'open one' | 'override', z.infer<typeof RefusalChoice>> = {
  'open one': { kind: 'open-one', words: 'Open one now, and charge its use', detail: 'It stands as opened today, by you' },
  override: { kind: 'override', words: 'Use it all the same, in my name', detail: 'With a reason, which stays on the record' },
};

const selectActs = `
  SELECT used.id, used.occurred_at AS at, ${codeOf('used.thing_id')} AS code, parts.name, used.uses::text AS quantity,
         coalesce(people.display_name, '') AS by, EXISTS (SELECT FROM consumable_uses AS later WHERE later.puts_right_id = used.id) AS "struckOut",
         coalesce(used.override_reason, '') AS words
    FROM consumable_uses AS used JOIN parts ON parts.id = used.part_id LEFT JOIN people ON people.id = used.person_id
   WHERE used.job_id = $1 AND used.kind = 'use' ORDER BY used.sequence DESC LIMIT 10`;
const codeOfUse = `SELECT thing_id AS id, ${codeOf('thing_id')} AS code FROM consumable_uses WHERE id = $1`;

/** A scan of a consumable in the mode fit charges a use; the digits after it say how many. It is taken back like any scan. */
@Injectable()
export class ChargeUsesAtBench implements ConsumablesAtBench, OnModuleInit {
  constructor(
    private readonly bench: UsesAtBench,
    private readonly clock: WorkshopClock,
  ) {}

  onModuleInit(): void {
    this.bench.register(this);
  }

  async use(transaction: Transaction, scan: ScanOfConsumable): Promise<Result<z.infer<typeof JobScanDone>>> {
    const { mode, input, thing, job } = scan;
    if (mode === 'pick') return refused(stopped(scan, notPicked(thing.name)));
    const keyed = input.quantity === undefined ? one : decimalFrom(input.quantity);
    const uses = Number(keyed / one);
    if (!isWhole(keyed) || uses < 1 || uses > usesMost)
      return refused(badInput('quantity', `Uses are counted whole, from 1 to ${usesMost}. Key how many.`));
    const used = await useOnJob(transaction, {
      job,
      partId: thing.partId,
      thingId: thing.id,
      uses,
      openOne: input.openOne ?? false,
      reason: input.override?.reason ?? null,
      occurredAt: input.occurredAt,
      today: await this.clock.today(transaction),
    });
    if (!used.ok) return refused(stopped(scan, used.error));
    const { id, container, useBy, words } = used.value;
    const notice = [`${uses === 1 ? '1 use is' : `${uses} uses are`} charged to the job. ${useBy.words}`, ...words].join(' ');
    return done({
      actId: id,
      fittingId: null,
      act: 'used',
      thing: container,
      quantity: String(uses),
      line: null,
      found: false,
      notice,
      at: new Date().toISOString(),
    });
  }

  async takeBack(
    transaction: Transaction,
    actId: string,
    { why }: z.infer<typeof TakeBack>,
  ): Promise<Result<z.infer<typeof TakenBack>> | null> {
    const use = await useRow(transaction, actId);
    if (use === null || use.kind !== 'use') return null;
    const right = await putUseRight(transaction, actId, why === '' ? 'scanned by mistake' : why);
    if (!right.ok) return right;
    const thing = await transaction.row<{ id: string; code: string }>(codeOfUse, [actId]);
    const quantity = String(use.uses ?? 0);
    return done({
      actId: right.value.rowId,
      act: 'taken back',
      thing: { id: thing?.id ?? '', code: thing?.code ?? '', name: use.name },
      quantity,
      words: `${use.name}: ${quantity === '1' ? '1 use is' : `${quantity} uses are`} charged no more.`,
    });
  }

  async actsAt(reader: Reader, jobId: string): Promise<Act[]> {
    const rows = await reader.rows<
      Pick<Act, 'id' | 'at' | 'code' | 'name' | 'quantity' | 'by' | 'struckOut' | 'words'> & Record<string, unknown>
    >(selectActs, [jobId]);
    return rows.map((row) => ({ ...row, act: 'used', lineNo: null, fittingId: null, canBeTakenBack: !row.struckOut }));
  }
}

function notPicked(name: string): UseStop {
  return {
    status: 409,
    code: 'not-picked',
    title: 'A consumable is not picked',
    detail: `${name} goes by the container and is not laid into a tray: in the mode fit a scan charges a use of it to the job. Nothing was changed.`,
    answer: null,
  };
}

function stopped({ thing, job }: ScanOfConsumable, { answer, ...stop }: UseStop): Refusal {
  const values: ScanRefusal = {
    jobId: job.id,
    thing: { id: thing.id, code: thing.code, name: thing.name },
    choices: answer === null ? [] : [choices[answer]],
    lines: [],
    operations: [],
    suggested: null,
    otherJob: null,
    instead: [],
  };
  return { ...stop, values };
}
