import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { LabelRun, StartLabelRun } from '@corewright/contracts/labels';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { newId } from '../../platform/new-id.js';
import { badInput, done, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { readCode, whyNothingOpens } from '../../scanning/resolve-code.js';
import { codeBlock } from '../blanks/code-block.queries.js';
import { LabelRegister } from '../label-register.js';
import type { LabelSubject } from '../label-subject.js';
import { belongsOn, sizeOfRun, withoutRepeats } from './decide-run.js';

type Input = z.infer<typeof StartLabelRun>;

interface Chosen {
  code: LabelCode;
  subject: LabelSubject;
}

const runIsThere = 'SELECT 1 AS there FROM label_runs WHERE id = $1';
const liveCodes = `
  SELECT code FROM codes WHERE code = ANY ($1::text[]) AND voided_at IS NULL
  UNION ALL SELECT code FROM blank_codes WHERE code = ANY ($1::text[]) AND NOT EXISTS (SELECT 1 FROM codes WHERE codes.code = blank_codes.code)`;
const printedCodes = 'SELECT DISTINCT code FROM label_prints WHERE code = ANY ($1::text[])';
const insertRun = 'INSERT INTO label_runs (id, stock, dots_per_inch, start_cell, person_id) VALUES ($1, $2, $3, $4, $5)';
const insertPrints = `
  INSERT INTO label_prints (id, run_id, position, code, copies, person_id)
  SELECT id, $1, position, code, copies, $2 FROM unnest($3::uuid[], $4::integer[], $5::text[], $6::smallint[]) AS prints (id, position, code, copies)`;
const subjectsOfCodes = 'SELECT DISTINCT subject_id AS id FROM codes WHERE code = ANY ($1::text[])';

/** Starts a run of labels: who printed what, and when, is on the record; the document is drawn when it is fetched. */
@Injectable()
export class StartRunHandler {
  constructor(private readonly register: LabelRegister) {}

  async handle(transaction: Transaction, input: Input): Promise<Result<LabelRun>> {
    if (await transaction.row(runIsThere, [input.id])) return refused(badInput('id', 'A run with this id was started already.'));
    const wanted = await this.codesWanted(transaction, input);
    if (!wanted.ok) return wanted;
    const codes = input.onlyUnlabelled ? await notPrintedYet(transaction, wanted.value) : wanted.value;
    const subjects = await this.register.subjectsOf(transaction, codes);
    const chosen = codes.flatMap((code): Chosen[] => {
      const subject = subjects.get(code);
      const isWanted = subject !== undefined && (input.codes !== undefined || belongsOn(subject, input.stock));
      return isWanted ? [{ code, subject }] : [];
    });
    if (chosen.length === 0) return refused(nothingToPrint(input));
    await record(transaction, input, chosen);
    await this.tell(transaction, input, chosen);
    const copies = chosen.map(({ subject }) => subject.models.length);
    const pdfPath = `/api/label-runs/${input.id}/pdf`;
    return done({ id: input.id, stock: input.stock, pdfPath, ...sizeOfRun(copies, input.stock, input.startCell) });
  }

  private async codesWanted(transaction: Transaction, input: Input): Promise<Result<LabelCode[]>> {
    if (input.loadId !== undefined) {
      const codes = await this.register.codesOfLoad(transaction, input.loadId);
      return codes === null ? refused(notFound('That load')) : done(codes);
    }
    if (input.blockId !== undefined) {
      const block = await codeBlock(transaction, input.blockId);
      return block === null ? refused(notFound('That block of labels')) : done(block.free as LabelCode[]);
    }
    const codes: LabelCode[] = [];
    for (const text of input.codes ?? []) {
      const read = readCode(text);
      if (!read.ok) return read;
      codes.push(read.value.code);
    }
    const named = withoutRepeats(codes);
    const live = new Set((await transaction.rows<{ code: LabelCode }>(liveCodes, [named])).map((row) => row.code));
    const lacking = named.find((code) => !live.has(code));
    if (lacking === undefined) return done(named);
    const parsed = readCode(lacking);
    return parsed.ok ? refused(await whyNothingOpens(transaction, parsed.value)) : parsed;
  }

  private async tell(transaction: Transaction, input: Input, chosen: readonly Chosen[]): Promise<void> {
    const rows = await transaction.rows<{ id: string }>(subjectsOfCodes, [chosen.map(({ code }) => code)]);
    transaction.news('loads', 'today', 'blank-labels', ...(input.loadId === undefined ? [] : [`load:${input.loadId}`]));
    // A large run would be news of every thing in it; the screens that show single things learn of small ones only.
    if (rows.length <= newsMax) transaction.news(...rows.map((row) => `thing:${row.id}`));
  }
}

const newsMax = 50;

async function notPrintedYet(transaction: Transaction, codes: readonly LabelCode[]): Promise<LabelCode[]> {
  const printed = new Set((await transaction.rows<{ code: LabelCode }>(printedCodes, [codes])).map((row) => row.code));
  return codes.filter((code) => !printed.has(code));
}

async function record(transaction: Transaction, input: Input, chosen: readonly Chosen[]): Promise<void> {
  const personId = transaction.command.person.id;
  await transaction.rows(insertRun, [input.id, input.stock, input.dotsPerInch, input.startCell, personId]);
  await transaction.rows(insertPrints, [
    input.id,
    personId,
    chosen.map(() => newId()),
    chosen.map((_, index) => index + 1),
    chosen.map(({ code }) => code),
    chosen.map(({ subject }) => subject.models.length),
  ]);
}

function nothingToPrint(input: Input): Refusal {
  const [only] = input.codes ?? [];
  const detail =
    input.codes !== undefined
      ? only === undefined
        ? 'No code was named. Choose the labels to print.'
        : `There is no label to print for ${formatCode(only as LabelCode)}${input.codes.length > 1 ? ' and the others' : ''}${input.onlyUnlabelled ? ': they were printed before. Print them again if a label is lost.' : '.'}`
      : `No label of this load is to be printed on this stock${input.onlyUnlabelled ? ': those that belong on it were printed before' : ''}. Tags are for units, bag labels for lots and boxes; a sheet takes all.`;
  return { status: 422, code: 'nothing-to-print', title: 'Nothing to print', detail };
}
