import { readFile } from 'node:fs/promises';
import { RecordStripFinding } from '@corewright/contracts/cores';
import type { INestApplication } from '@nestjs/common';
import { parse } from 'csv-parse/sync';
import { BeginStripDownHandler } from '../cores/begin-strip-down/begin-strip-down.handler.js';
import { FinishStripDownHandler } from '../cores/finish-strip-down/finish-strip-down.handler.js';
import { RecordFindingHandler } from '../cores/record-finding/record-finding.handler.js';
import { typeComponents } from '../cores/type-components/type-component.queries.js';
import type { Transaction } from '../platform/commands/unit-of-work.js';
import { newId } from '../platform/new-id.js';
import { done, type Result } from '../platform/refusal.js';

/** A component of a unit of the example of which so many pieces were not fit to be used again. */
interface Unfit {
  unit: string;
  position: string;
  pieces: string;
  finding: string;
}

const selectUnit = `
  SELECT subject_id AS id, unit_type_id AS "typeId" FROM import_references JOIN units ON thing_id = subject_id WHERE file = 'units' AND reference = $1`;

/** The units of the example that were taken apart, each with what of it was unfit. */
export async function takenApart(file: URL): Promise<ReadonlyMap<string, readonly Unfit[]>> {
  const rows: Unfit[] = parse(await readFile(file, 'utf8'), { columns: true, skip_empty_lines: true });
  const units = [...new Set(rows.map(({ unit }) => unit))];
  return new Map(units.map((unit) => [unit, rows.filter((row) => row.unit === unit)]));
}

/** Takes a unit of the example apart as a person would: what is unfit is scrapped, and all else was looked at and left where it is. */
export async function takeApart(
  app: INestApplication,
  transaction: Transaction,
  reference: string,
  unfit: readonly Unfit[],
): Promise<Result<null>> {
  const unit = await transaction.row<{ id: string; typeId: string }>(selectUnit, [reference]);
  if (unit === null) throw new Error(`The example workshop has lost the core ${reference}, which was taken apart.`);
  const id = newId();
  const begun = await app.get(BeginStripDownHandler, { strict: false }).handle(transaction, unit.id, { id, forJobId: null });
  if (!begun.ok) return begun;
  const recording = app.get(RecordFindingHandler, { strict: false });
  for (const { position, quantity } of await typeComponents(transaction, unit.typeId)) {
    const bad = unfit.filter((each) => Number(each.position) === position);
    const good = Number(quantity) - bad.reduce((sum, { pieces }) => sum + Number(pieces), 0);
    const findings = [
      ...bad.map(({ pieces, finding }) => ({ quantity: pieces, finding, disposition: 'scrap' })),
      ...(good === 0 ? [] : [{ quantity: good.toString(), finding: 'good', disposition: 'left in place' }]),
    ];
    for (const finding of findings) {
      const recorded = await recording.handle(transaction, id, RecordStripFinding.parse({ id: newId(), position, ...finding }));
      if (!recorded.ok) return recorded;
    }
  }
  const finished = await app.get(FinishStripDownHandler, { strict: false }).handle(transaction, id);
  return finished.ok ? done(null) : finished;
}
