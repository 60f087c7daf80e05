import { createHash } from 'node:crypto';
import { access } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { type ImportReport, importFiles } from '@corewright/contracts/imports';
import { daysBetween, type PlainDate } from '@corewright/quantities/plain-date';
import type { INestApplication } from '@nestjs/common';
import { DecideAcceptanceHandler } from '../cores/acceptance/decide-acceptance/decide-acceptance.handler.js';
import { FillInHandler } from '../cores/acceptance/fill-in/fill-in.handler.js';
import { acceptanceTerms } from '../cores/acceptance/terms.queries.js';
import { StartRunHandler } from '../labels/start-run/start-run.handler.js';
import { makeWorkshop } from '../people/make-workshop.js';
import { withinTransaction } from '../people/within-transaction.js';
import { readWorkshop, WorkshopClock } from '../people/workshop.js';
import type { SignedIn } from '../platform/access/signed-in.js';
import type { Command } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { newId } from '../platform/new-id.js';
import { done, RefusalError } from '../platform/refusal.js';
import { CoverWatch } from '../warnings/cover-watch.js';
import { inspectFile } from './csv/text-encoding.js';
import { countHalfABin, countsOver, countThrough, postCount } from './example-counts.js';
import { takeApart, takenApart } from './example-strip-downs.js';
import { type FileToImport, Importer } from './importer.js';

/** The day at which the files of the example stand. */
const baseDay: PlainDate = '2026-11-25';
const seedFolder = new URL('../../../../seed/', import.meta.url);

const owner = { signInName: 'mary', displayName: 'Mary Fenwright' };
const selectPerson = `SELECT id, display_name AS "displayName", sign_in_name AS "signInName", role FROM people WHERE sign_in_name = $1`;
/** Loads of which no row was printed by anybody yet, but for the newest. */
const olderLoads = `
  SELECT id FROM loads WHERE bought_on < (SELECT max(bought_on) FROM loads)
     AND EXISTS (SELECT FROM load_rows WHERE load_id = loads.id) ORDER BY bought_on, id`;
const selectLookedOver = `
  SELECT subject_id AS id, unit_type_id AS "typeId" FROM import_references JOIN units ON thing_id = subject_id WHERE file = 'units' AND reference = $1`;
const lookedOver = { reference: 'T-231', notSeen: ['Worm', 'Worm wheel'], rough: 'Thrust bearing' };
/** Who posts what others have counted. */
const keepsBooks = 'edie';
const underWay = { place: 'Stores/Rack 2/Bin 17', by: 'tom' };
const somethingIsThere = 'SELECT 1 AS there FROM import_references LIMIT 1';

/**
 * Fills an empty database with the example workshop: an invented firm, brought in from `seed/` by the same import as anybody's own
 * files. Days move by whole weeks so that the day at which the files stand is about today. Where the example is there already, or
 * another workshop is, nothing is done. @throws Error naming the faults where the files have any
 */
export async function loadExample(app: INestApplication, say: (words: string) => void): Promise<void> {
  const database = app.get(Database);
  const workshop = await readWorkshop(database);
  if (workshop && !workshop.isExample)
    return say(`These are the books of ${workshop.name}: the example is not brought into them.`);
  // A loading that broke off has left the workshop and nothing in it.
  if (workshop && (await database.row(somethingIsThere))) return;
  if (!workshop) await makeExampleWorkshop(database);
  say('Bringing the example workshop in from seed/ …');
  const started = performance.now();
  const report = await app.get(CoverWatch, { strict: false }).asleep(() => fill(app));
  const rows = report.files.reduce((sum, file) => sum + file.rows, 0);
  say(`Brought in ${rows} rows of ${report.files.length} files in ${((performance.now() - started) / 1000).toFixed(1)} s.`);
}

async function fill(app: INestApplication): Promise<ImportReport> {
  const report = await bringExampleIn(app);
  if (report.faultsTotal > 0) throw new Error(faultsInWords(report));
  await printOlderLabels(app);
  await lookOneOver(app);
  await takeSomeApart(app);
  await countSome(app);
  return report;
}

/** Brings the files of the example in, as they stand today. Again, it changes nothing. */
export async function bringExampleIn(app: INestApplication): Promise<ImportReport> {
  const person = await ownerOf(app.get(Database));
  const shiftDays = await shiftOf(app);
  const files = await seedFiles();
  const importer = app.get(Importer, { strict: false });
  return app
    .get(UnitOfWork)
    .run(commandOf(person), async (transaction) => done(await importer.bringIn(transaction, files, { apply: true, shiftDays })));
}

/** So many whole weeks, in days, are the days of the files away from today. */
async function shiftOf(app: INestApplication): Promise<number> {
  return Math.floor(daysBetween(baseDay, await app.get(WorkshopClock).today()) / 7) * 7;
}

/** What came with the older loads was labelled when it came; the newest stands in goods-in and waits for its labels. */
async function printOlderLabels(app: INestApplication): Promise<void> {
  const database = app.get(Database);
  const person = await ownerOf(database);
  const runs = app.get(StartRunHandler, { strict: false });
  const options = { onlyUnlabelled: true, stock: 'A4 sheet' as const, dotsPerInch: 300 as const, startCell: 1 };
  for (const { id: loadId } of await database.rows<{ id: string }>(olderLoads))
    await app
      .get(UnitOfWork)
      .run(commandOf(person), (transaction) => runs.handle(transaction, { id: newId(), loadId, ...options }));
}

/** One core was looked over and decided on: its worm set cannot be seen from outside, and its thrust bearing sounds rough. */
async function lookOneOver(app: INestApplication): Promise<void> {
  const database = app.get(Database);
  const unit = await database.row<{ id: string; typeId: string }>(selectLookedOver, [lookedOver.reference]);
  if (!unit) throw new Error('The example workshop has lost the core that is looked over.');
  const terms = await acceptanceTerms(database, unit.typeId);
  if (!terms) throw new Error('Nothing is asked of the core that is looked over.');
  const sheet = {
    id: newId(),
    termsVersion: terms.version,
    points: terms.points.map(({ point }) => ({ point, answer: 'yes' as const, note: '' })),
    components: terms.components
      .filter(({ name }) => !lookedOver.notSeen.includes(name))
      .map(({ position, name }) => ({
        position,
        answer: name === lookedOver.rough ? ('no' as const) : ('yes' as const),
        note: name === lookedOver.rough ? 'sounds rough when the worm is turned by hand' : '',
      })),
  };
  const work = app.get(UnitOfWork);
  const person = await ownerOf(database);
  const filled = await work.run(commandOf(person), (transaction) =>
    app.get(FillInHandler, { strict: false }).handle(transaction, unit.id, sheet),
  );
  const { grade, credit } = filled.suggested.least;
  await work.run(commandOf(person), (transaction) =>
    app
      .get(DecideAcceptanceHandler, { strict: false })
      .handle(transaction, filled.id, { grade: grade ?? '', credit: credit ?? '', why: '' }),
  );
}

/** Some cores were taken apart before, so that there is something to reckon from. */
async function takeSomeApart(app: INestApplication): Promise<void> {
  const person = await ownerOf(app.get(Database));
  for (const [reference, unfit] of await takenApart(new URL('strip-downs.csv', seedFolder)))
    await app.get(UnitOfWork).run(commandOf(person), (transaction) => takeApart(app, transaction, reference, unfit));
}

/** Racks were counted in past weeks, so that it shows how often the books were right; one is under way. */
async function countSome(app: INestApplication): Promise<void> {
  const [work, database, shiftDays] = [app.get(UnitOfWork), app.get(Database), await shiftOf(app)];
  const keeper = await personOf(database, keepsBooks);
  for (const count of await countsOver(new URL('counts.csv', seedFolder))) {
    const counter = await personOf(database, count.by);
    const countId = await work.run(commandOf(counter), (transaction) => countThrough(app, transaction, count, shiftDays));
    await work.run(commandOf(keeper), (transaction) => postCount(app, transaction, countId, count));
  }
  const counter = await personOf(database, underWay.by);
  await work.run(commandOf(counter), (transaction) => countHalfABin(app, transaction, underWay.place));
}

function commandOf(person: SignedIn): Command {
  const route = 'the example workshop';
  const requestHash = createHash('sha256').update(route).digest();
  return { key: newId(), person, deviceId: null, madeAt: null, route, requestHash, versionSeen: null };
}

function ownerOf(database: Database): Promise<SignedIn> {
  return personOf(database, owner.signInName);
}

async function personOf(database: Database, signInName: string): Promise<SignedIn> {
  const person = await database.row<SignedIn & Record<string, unknown>>(selectPerson, [signInName]);
  if (!person) throw new Error(`The example workshop has lost ${signInName}.`);
  return person;
}

async function makeExampleWorkshop(database: Database): Promise<void> {
  const made = await withinTransaction(database, (transaction) =>
    makeWorkshop(transaction, {
      name: 'Orrisden Axle & Gear',
      timeZone: 'Europe/London',
      locale: 'en-GB',
      currency: 'GBP',
      isExample: true,
      owner: { id: newId(), ...owner, passPhraseHash: null },
    }),
  );
  if (!made.ok) throw new RefusalError(made.error);
}

async function seedFiles(): Promise<FileToImport[]> {
  const files: FileToImport[] = [];
  for (const file of importFiles) {
    const path = fileURLToPath(new URL(`${file}.csv`, seedFolder));
    const isThere = await access(path).then(
      () => true,
      () => false,
    );
    if (isThere) files.push({ file, path, encoding: (await inspectFile(path)).encoding });
  }
  if (files.length === 0) throw new Error(`The files of the example workshop are not in ${fileURLToPath(seedFolder)}.`);
  return files;
}

function faultsInWords({ faults, faultsTotal }: ImportReport): string {
  const some = faults
    .slice(0, 20)
    .map(({ file, line, column, value, words }) => `${file}.csv, line ${line}, ${column} "${value}": ${words}`);
  return [`The example workshop has ${faultsTotal} faults, so nothing of it was brought in.`, ...some].join('\n');
}
