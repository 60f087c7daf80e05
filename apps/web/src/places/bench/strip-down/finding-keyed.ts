import type { Disposition, RecordStripFinding, StripComponent, StripFinding, StripKind } from '@corewright/contracts/cores';
import type * as z from 'zod';
import { newKey } from '../../../api/uuid.js';

/** What is keyed of one component, before it is put on the record. */
export interface FindingKeyed {
  /** Its id in the books, made here: what is photographed before it is recorded is of it already. */
  readonly id: string;
  readonly kind: StripKind;
  readonly name: string;
  readonly quantity: string;
  readonly finding: string;
  readonly words: string;
  readonly disposition: Disposition | null;
  readonly firmId: string;
  readonly stamped: string;
  readonly thickness: string;
  readonly condition: string;
  readonly ownersWord: string;
}

/** A component's form as it opens: all that has no fate yet; or the finding that is put right, as it was keyed. */
export function keyedAtFirst(component: StripComponent | null, putRight: StripFinding | null): FindingKeyed {
  const common = { id: newKey(), firmId: '', condition: '', ownersWord: putRight?.ownersWord ?? '', name: putRight?.name ?? '' };
  if (putRight !== null)
    return {
      ...common,
      kind: putRight.kind,
      quantity: putRight.quantity,
      finding: putRight.finding,
      words: putRight.words,
      disposition: putRight.disposition,
      stamped: putRight.stamped,
      thickness: putRight.thickness ?? '',
    };
  return {
    ...common,
    kind: component === null ? 'extra' : 'as expected',
    quantity: component === null || component.undecided === '0' ? '1' : component.undecided,
    finding: '',
    words: '',
    disposition: null,
    stamped: '',
    thickness: '',
  };
}

const needsPlace: readonly (Disposition | null)[] = ['to stores', 're-use after rework', 'hold', 're-use here', 'replace'];

/** Whether this goes to a place that somebody must name. What is used again here goes into the job's tray, if there is a job. */
export function asksForPlace({ disposition }: FindingKeyed, hasJob: boolean, isCustomers: boolean): boolean {
  if (disposition === 're-use here') return !hasJob;
  if (disposition === 'replace') return isCustomers;
  return needsPlace.includes(disposition);
}

type Finding = z.input<typeof RecordStripFinding>;

export interface FindingAbout {
  readonly position: number | null;
  readonly placeId: string | null;
  readonly supersedesId: string | null;
  readonly hasJob: boolean;
}

/** What is sent. What is missing goes nowhere, whatever was chosen before. */
export function findingOf(keyed: FindingKeyed, { position, placeId, supersedesId, hasJob }: FindingAbout): Finding {
  const { id, kind, name, quantity, finding, words, firmId, stamped, thickness, condition, ownersWord } = keyed;
  const disposition = kind === 'missing' ? null : keyed.disposition;
  const intoTray = disposition === 're-use here' && hasJob;
  return {
    id,
    position,
    kind,
    name: kind === 'extra' ? name : '',
    quantity,
    finding,
    words,
    disposition,
    placeId: intoTray ? null : placeId,
    firmId: disposition === 'send out' && firmId !== '' ? firmId : null,
    stamped,
    thickness: thickness.trim() === '' ? null : thickness.trim(),
    condition: disposition === 'to stores' ? condition : '',
    ownersWord,
    supersedesId,
  };
}
