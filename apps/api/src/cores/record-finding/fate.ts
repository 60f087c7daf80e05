import type { Disposition } from '@corewright/contracts/cores';

/** Where a component goes, and as what. */
export type Fate =
  | { make: 'nothing' }
  | { make: 'lot'; to: 'place' }
  | { make: 'component'; to: 'place' | 'tray' | 'firm' | 'scrap'; heldBack: string | null; isForJob: boolean };

export interface FateAsked {
  disposition: Disposition | null;
  /** the unit belongs to a customer */
  isCustomers: boolean;
  /** who of the owners said what may be done with it; empty where nobody did */
  ownersWord: string;
  hasJob: boolean;
  /** a person named the place */
  hasPlace: boolean;
  /** what was found, in words */
  found: string;
}

const component = (to: 'place' | 'tray' | 'firm' | 'scrap', heldBack: string | null = null, isForJob = false): Fate => ({
  make: 'component',
  to,
  heldBack,
  isForJob,
});

/** What a disposition does. A customer's old parts are kept for them until they have said what becomes of them. */
export function fateOf(asked: FateAsked): Fate {
  switch (asked.disposition) {
    case null:
    case 'left in place':
      return { make: 'nothing' };
    case 'to stores':
      return { make: 'lot', to: 'place' };
    case 're-use here':
      return component(asked.hasJob && !asked.hasPlace ? 'tray' : 'place', null, asked.hasJob);
    case 're-use after rework':
      return component('place', said('to be reworked', asked.found));
    case 'hold':
      return component('place', said('to be decided', asked.found));
    case 'send out':
      return component('firm');
    case 'replace':
      return asked.isCustomers && asked.ownersWord === ''
        ? component('place', 'replaced; the owner has not said what becomes of the old one')
        : component('scrap');
    case 'scrap':
      return component('scrap');
  }
}

function said(words: string, found: string): string {
  return found === '' ? words : `${words}: ${found}`.slice(0, 200);
}
