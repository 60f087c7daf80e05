import type { EndKept, KeptKind } from '@corewright/contracts/goods-apart';
import { badInput, type Refusal } from '../../platform/refusal.js';

export interface EndingStanding {
  kind: KeptKind;
  isOwnerKnown: boolean;
  isEnded: boolean;
  condemned: boolean;
  /** the customer of the name that was keyed; null where none has it */
  named: { id: string } | null;
}

/** Why a keeping cannot end so; null where it can. Goods that are not ours leave on somebody's word alone. Pure. */
export function whyNotEnded(standing: EndingStanding, { how, restsOn, ownerName }: EndKept): Refusal | null {
  const { isOwnerKnown, isEnded, condemned, named } = standing;
  if (isEnded)
    return {
      status: 409,
      code: 'ended-already',
      title: 'Ended already',
      detail: 'Somebody has written down meanwhile what became of it. Nothing was changed.',
    };
  if (how === 'claimed') {
    if (isOwnerKnown) return badInput('how', 'Its owner is known. Say that it was collected, or what else became of it.');
    if (ownerName === '') return badInput('ownerName', 'Say whose it is: choose the customer who claims it.');
    return named === null
      ? badInput('ownerName', `No customer called “${ownerName}” is in the books. Add the customer first.`)
      : null;
  }
  if (ownerName !== '') return badInput('ownerName', 'An owner is named only where one claims it. Leave it empty.');
  if (!isOwnerKnown && (how === 'collected' || how === 'bought'))
    return badInput(
      'how',
      'Nobody knows whose it is. Where its owner turned up, it is claimed first; then it is theirs to collect or to sell.',
    );
  if (how === 'bought' && condemned) return badInput('how', 'It was condemned: there is nothing in it to buy.');
  if ((how === 'given away' || how === 'scrapped') && restsOn === '')
    return badInput(
      'restsOn',
      isOwnerKnown
        ? 'It is not ours. Write down the owner’s word: who said so, when and how.'
        : 'It is not ours. Write down what this rests on: which advice was taken, what was written to whom, how long it was kept.',
    );
  return null;
}
