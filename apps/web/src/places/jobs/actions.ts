import type { BuildStandard, JobState } from '@corewright/contracts/base';
import { DateGiven, JobBrief, JobChanged, LineAdded, Operation } from '@corewright/contracts/jobs';
import { type LineToReserve, Released, Reserved, Taken } from '@corewright/contracts/reservations';
import { type AcceptSubstitute, SubstituteAccepted, SubstituteShown } from '@corewright/contracts/substitutes';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import type * as z from 'zod';
import { api } from '../../api/client.js';
import { newKey } from '../../api/uuid.js';
import { jobQuery } from './queries.js';
import type { ReservedShare } from './to-reserve.js';

export interface OpenJobInput {
  readonly id: string;
  readonly unitCode: string;
  readonly customerName: string;
  readonly title: string;
  readonly wanted: string;
  readonly buildStandard: BuildStandard;
  readonly priority: number;
}

export function openJob(input: OpenJobInput): Promise<JobBrief> {
  return api.send(JobBrief, 'POST', '/api/jobs', input, { key: newKey() });
}

export type JobChange =
  | { readonly kind: 'date'; readonly given: string; readonly reason: string }
  | {
      readonly kind: 'job';
      readonly version: number;
      readonly title: string;
      readonly wanted: string;
      readonly buildStandard: BuildStandard;
      readonly priority: number;
      readonly state: JobState;
    }
  | {
      readonly kind: 'line';
      readonly id: string;
      readonly partId: string;
      readonly quantity: string;
      readonly operationId: string;
      readonly critical: boolean;
    }
  | { readonly kind: 'waive'; readonly lineId: string; readonly version: number; readonly reason: string }
  | {
      readonly kind: 'finding';
      readonly lineId: string;
      readonly version: number;
      readonly quantityReused: string;
      readonly quantityReplaced: string;
      readonly words: string;
    }
  | { readonly kind: 'accept-substitute'; readonly lineId: string; readonly substitute: z.input<typeof AcceptSubstitute> }
  | { readonly kind: 'withdraw-substitute'; readonly id: string; readonly why: string }
  | { readonly kind: 'reserve'; readonly until: string | null; readonly lines: readonly LineToReserve[] }
  | { readonly kind: 'release'; readonly reservation: ReservedShare; readonly reason: string }
  | {
      readonly kind: 'take';
      readonly on: { readonly thingId: string } | { readonly receiptId: string };
      readonly fromJobId: string;
      readonly lineId: string;
      readonly quantity: string;
      readonly reason: string;
    }
  | { readonly kind: 'operation'; readonly operationId: string; readonly version: number; readonly minutesLeft: number };

/** Reserves for a job, all of these or none. */
export async function reserveFor(jobId: string, until: string | null, lines: readonly LineToReserve[]): Promise<void> {
  await api.send(Reserved, 'POST', `/api/jobs/${jobId}/reservations`, { until, lines }, { key: newKey() });
}

async function change(jobId: string, made: JobChange): Promise<void> {
  const path = `/api/jobs/${jobId}`;
  const key = newKey();
  switch (made.kind) {
    case 'date':
      await api.send(DateGiven, 'POST', `${path}/dates`, { given: made.given, reason: made.reason }, { key });
      return;
    case 'job': {
      const { kind: _kind, version, ...body } = made;
      await api.send(JobChanged, 'PATCH', path, body, { key, ifMatch: `"${version}"` });
      return;
    }
    case 'line': {
      const { kind: _kind, ...body } = made;
      await api.send(LineAdded, 'POST', `${path}/lines`, body, { key });
      return;
    }
    case 'waive':
      await api.send(
        LineAdded,
        'POST',
        `${path}/lines/${made.lineId}/waive`,
        { reason: made.reason },
        { key, ifMatch: `"${made.version}"` },
      );
      return;
    case 'finding':
      await api.send(
        LineAdded,
        'POST',
        `${path}/lines/${made.lineId}/findings`,
        { quantityReused: made.quantityReused, quantityReplaced: made.quantityReplaced, words: made.words },
        { key },
      );
      return;
    case 'accept-substitute':
      await api.send(SubstituteAccepted, 'POST', `${path}/lines/${made.lineId}/substitutes`, made.substitute, { key });
      return;
    case 'withdraw-substitute':
      await api.send(SubstituteShown, 'POST', `/api/substitutes/${made.id}/withdrawal`, { why: made.why }, { key });
      return;
    case 'reserve':
      await reserveFor(jobId, made.until, made.lines);
      return;
    case 'release': {
      const { claimId, expectedClaimId } = made.reservation;
      const by = claimId === null ? { expectedClaimId } : { claimId };
      await api.send(Released, 'POST', '/api/reservations/release', { ...by, reason: made.reason }, { key });
      return;
    }
    case 'take': {
      const { on, fromJobId, lineId, quantity, reason } = made;
      await api.send(
        Taken,
        'POST',
        '/api/reservations/take',
        { ...on, fromJobId, toJobId: jobId, lineId, quantity, reason },
        { key },
      );
      return;
    }
    case 'operation':
      await api.send(
        Operation,
        'PATCH',
        `${path}/operations/${made.operationId}`,
        { minutesLeft: made.minutesLeft },
        { key, ifMatch: `"${made.version}"` },
      );
      return;
  }
}

/** Changes something on a job's card; the card is then asked for anew, for any change may move its date. */
export function useJobChange(jobId: string, onDone?: () => void) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (made: JobChange) => change(jobId, made),
    onSuccess: async () => {
      await client.invalidateQueries({ queryKey: jobQuery(jobId).queryKey });
      void client.invalidateQueries({ queryKey: ['jobs'] });
      void client.invalidateQueries({ queryKey: ['stores', 'part'] });
      onDone?.();
    },
  });
}
