import type { ByPart } from '@corewright/contracts/by-part';

export interface JobInColumn {
  readonly job: ByPart['jobs'][number];
  readonly column: number;
}

/** By the job's id: the job, and under which of the tags it stands. */
export type JobColumns = ReadonlyMap<string, JobInColumn>;
