import type { z } from 'zod';
import type { Coverage, CoverShare } from '../../libs/contracts/src/coverage.js';
import type { JobList } from '../../libs/contracts/src/jobs.js';
import { type Supposition, type WhatIf, writeSuppositions } from '../../libs/contracts/src/what-if.js';
import type { Visitor } from './bare-server.js';

/** How each open job stands: its date, and by the line what it is covered with. */
export type AllStanding = Record<string, { date: string; lines: Record<string, string> }>;

/** Asks what would be, and looks afterwards at what is. */
export class WhatIfDesk {
  constructor(private readonly visitor: Visitor) {}

  ask(...suppositions: Supposition[]) {
    const query = new URLSearchParams({ suppose: writeSuppositions(suppositions) });
    return this.visitor.get<WhatIf & { detail: string; code: string }>(`/api/what-if?${query}`);
  }

  /** Every open job as its own card says it. */
  async standing(): Promise<AllStanding> {
    const { jobs } = (await this.visitor.get<z.infer<typeof JobList>>('/api/jobs?open=yes&limit=200')).body;
    const all: AllStanding = {};
    for (const { id } of jobs) {
      const { lines, advice } = (await this.visitor.get<Coverage>(`/api/jobs/${id}/coverage`)).body;
      all[id] = {
        date: `${advice.kind} ${advice.date}`,
        lines: Object.fromEntries(lines.map((line) => [line.id, sharesSaid(line.shares)])),
      };
    }
    return all;
  }

  /** How all would stand by what was answered: as now, but for what differs. */
  static foretold(now: AllStanding, { jobs }: WhatIf): AllStanding {
    const then = structuredClone(now);
    for (const { job, before, after, lines } of jobs) {
      const standing = then[job.id];
      if (standing === undefined) throw new Error(`${job.name} is no open job.`);
      expect(standing.date).toBe(`${before.advice.kind} ${before.advice.date}`);
      standing.date = `${after.advice.kind} ${after.advice.date}`;
      for (const line of lines) {
        expect(standing.lines[line.id]).toBe(sharesSaid(line.before.shares));
        standing.lines[line.id] = sharesSaid(line.after.shares);
      }
    }
    return then;
  }
}

/** Neither the code of what a core gives nor its place is known before it is broken. */
function sharesSaid(shares: readonly CoverShare[]): string {
  return shares
    .map(({ state, quantity, receiptId, dueOn, instead }) =>
      [state, quantity, receiptId, dueOn, instead?.part.id, instead?.isAccepted].filter((each) => each != null).join(' '),
    )
    .join('; ');
}
