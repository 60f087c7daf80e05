import type { Disposition } from '@corewright/contracts/cores';
import { type Decimal, zero } from '@corewright/quantities/decimal';
import { type ComponentState, toLookAtOf, undecidedOf } from '../strip-state.js';

export interface UsualFate {
  component: ComponentState;
  quantity: Decimal;
  disposition: Disposition;
}

export interface Remaining {
  component: ComponentState;
  why: string;
}

export interface RestState {
  components: readonly ComponentState[];
  isCustomers: boolean;
  ownersWord: string;
  /** parts that the unit's job always replaces */
  alwaysReplaced: ReadonlySet<string>;
}

/** Which components get the fate that their type usually gives them, and which remain, with why. Pure. */
export function planUsualFate(state: RestState): { give: UsualFate[]; remaining: Remaining[] } {
  const give: UsualFate[] = [];
  const remaining: Remaining[] = [];
  for (const component of state.components) {
    const quantity = undecidedOf(component);
    if (quantity === zero) continue;
    const why = whyItRemains(component, state);
    if (why !== null) remaining.push({ component, why });
    else if (component.usualFate !== null) give.push({ component, quantity, disposition: component.usualFate });
  }
  return { give, remaining };
}

function whyItRemains(component: ComponentState, { isCustomers, ownersWord, alwaysReplaced }: RestState): string | null {
  if (toLookAtOf(component) > zero) return 'somebody must look at it';
  if (component.usualFate === null) return 'its type says no usual fate';
  if (component.usualFate === 'send out') return 'say to whom it goes';
  if (component.keepsThickness && component.usualFate === 'to stores') return 'measure its thickness';
  if (component.keptSet !== '' && ['scrap', 'replace'].includes(component.usualFate))
    return 'it belongs to a set: say why it goes';
  if (component.usualFate === 'scrap' && isCustomers && ownersWord === '') return 'it is the customer’s: they have not said';
  if (component.usualFate === 're-use here' && component.partId !== null && alwaysReplaced.has(component.partId))
    return 'the job always replaces it';
  return null;
}
