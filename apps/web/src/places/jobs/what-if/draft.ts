import type { BuildStandard } from '@corewright/contracts/base';
import type { Supposition } from '@corewright/contracts/what-if';
import type { ComboOption } from '../../../ui/combo-options.js';

/** What kind of thing is supposed; an order's day or absence is asked for after that. */
export type DraftKind = 'first' | 'core' | 'order' | 'instead' | 'instead-everywhere' | 'standard';

/** A supposition that is being put together. */
export interface Draft {
  readonly kind: DraftKind;
  readonly job: ComboOption | null;
  readonly standard: BuildStandard;
  readonly core: ComboOption | null;
  readonly gives: 'expected' | 'all';
  readonly order: ComboOption | null;
  readonly comes: 'late' | 'on' | 'never';
  readonly count: string;
  readonly span: 'days' | 'weeks';
  readonly on: string;
  readonly lineId: string;
  readonly forPart: ComboOption | null;
  readonly part: ComboOption | null;
}

export const emptyDraft: Draft = {
  kind: 'first',
  job: null,
  standard: 'serviceable',
  core: null,
  gives: 'expected',
  order: null,
  comes: 'late',
  count: '2',
  span: 'weeks',
  on: '',
  lineId: '',
  forPart: null,
  part: null,
};

/** What is supposed, or in words what is still to be said. */
export function suppositionOf(draft: Draft): Supposition | string {
  const { job, core, order, part, forPart } = draft;
  switch (draft.kind) {
    case 'first':
      return job === null ? 'Choose the job from the list.' : { kind: 'first', jobId: job.id };
    case 'standard':
      return job === null ? 'Choose the job from the list.' : { kind: 'standard', jobId: job.id, standard: draft.standard };
    case 'core':
      return core === null ? 'Choose the core from the list.' : { kind: 'core', unitId: core.id, gives: draft.gives };
    case 'order':
      return order === null ? 'Choose the order from the list.' : orderSupposed(draft, order.id);
    case 'instead':
      if (draft.lineId === '') return 'Choose the job, and then one of its lines.';
      return part === null ? 'Choose the part from the list.' : { kind: 'instead', lineId: draft.lineId, partId: part.id };
    case 'instead-everywhere':
      if (forPart === null || part === null) return 'Choose both parts from the list.';
      return { kind: 'instead-everywhere', forPartId: forPart.id, partId: part.id };
  }
}

const DAYS_MAX = 3650;

function orderSupposed({ comes, count, span, on }: Draft, receiptId: string): Supposition | string {
  if (comes === 'never') return { kind: 'order-never', receiptId };
  if (comes === 'on') return on === '' ? 'Key the day on which it comes.' : { kind: 'order-on', receiptId, on };
  const days = Number(count) * (span === 'weeks' ? 7 : 1);
  if (!/^\d+$/.test(count.trim()) || days < 1 || days > DAYS_MAX) return 'Key by how many days or weeks it is late.';
  return { kind: 'order-late', receiptId, days };
}
