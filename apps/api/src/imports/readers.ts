import type { ImportFile } from '@corewright/contracts/imports';
import { invariant } from '../platform/refusal.js';
import type { FileReader } from './file-reader.js';
import { bearingSuffixes } from './files/bearing-suffixes.js';
import { bearings } from './files/bearings.js';
import { closedDays } from './files/closed-days.js';
import { consumables } from './files/consumables.js';
import { countMarks } from './files/count-marks.js';
import { countSchedule } from './files/count-schedule.js';
import { firms } from './files/firms.js';
import { grades } from './files/grades.js';
import { jobFindings } from './files/job-findings.js';
import { jobFittings } from './files/job-fittings.js';
import { jobOperations } from './files/job-operations.js';
import { jobWaivers } from './files/job-waivers.js';
import { jobs } from './files/jobs.js';
import { keptForJobs } from './files/kept-for-jobs.js';
import { labelPrinters } from './files/label-printers.js';
import { loads } from './files/loads.js';
import { lots } from './files/lots.js';
import { makers } from './files/makers.js';
import { minimums } from './files/minimums.js';
import { partNumbers } from './files/part-numbers.js';
import { parts } from './files/parts.js';
import { people } from './files/people.js';
import { places } from './files/places.js';
import { receipts } from './files/receipts.js';
import { relations } from './files/relations.js';
import { unitTypeAcceptance } from './files/unit-type-acceptance.js';
import { unitTypeComponents } from './files/unit-type-components.js';
import { unitTypeLines } from './files/unit-type-lines.js';
import { unitTypeOperations } from './files/unit-type-operations.js';
import { unitTypeSerials } from './files/unit-type-serials.js';
import { unitTypeShares } from './files/unit-type-shares.js';
import { unitTypeSigns } from './files/unit-type-signs.js';
import { unitTypeTeeth } from './files/unit-type-teeth.js';
import { unitTypes } from './files/unit-types.js';
import { units } from './files/units.js';
import { unsorted } from './files/unsorted.js';

/** Every kind of file in the order in which it is read: each names only what those before it have brought. */
export const readers: readonly FileReader[] = [
  people,
  makers,
  firms,
  grades,
  labelPrinters,
  closedDays,
  places,
  countSchedule,
  parts,
  partNumbers,
  countMarks,
  minimums,
  bearingSuffixes,
  bearings,
  relations,
  unitTypes,
  unitTypeComponents,
  unitTypeAcceptance,
  unitTypeShares,
  unitTypeOperations,
  unitTypeLines,
  unitTypeSigns,
  unitTypeSerials,
  unitTypeTeeth,
  consumables,
  loads,
  units,
  lots,
  unsorted,
  keptForJobs,
  jobs,
  jobOperations,
  jobFindings,
  jobFittings,
  jobWaivers,
  receipts,
];

export function readerOf(file: ImportFile): FileReader {
  const reader = readers.find((each) => each.file === file);
  invariant(reader, 'every kind of file has its reader');
  return reader;
}
