import type { Thing } from '@corewright/contracts/stores';
import { CondemnForm, DisposalForm } from './CondemnForms.js';
import { HoldForm, HoldOnForm, LiftForm } from './HoldForms.js';
import { KeepForm } from './KeptForms.js';
import { OwnerForm } from './OwnerForm.js';
import type { ApartAct } from './use-apart-acts.js';

export interface ApartFormProps {
  readonly act: ApartAct;
  readonly thing: Thing;
  readonly onClose: () => void;
}

/** What sets a thing apart from stock, or brings it back: holds, condemning, whose it is, waiting for its owner. */
export function ApartForm({ act, thing, onClose }: ApartFormProps) {
  const owner = thing.owner?.name ?? null;
  switch (act) {
    case 'hold':
      return <HoldForm thing={thing} isSeveral={thing.kind === 'lot' && thing.held !== '1'} onClose={onClose} />;
    case 'lift':
      return <LiftForm thing={thing} onClose={onClose} />;
    case 'hold on':
      return <HoldOnForm thing={thing} onClose={onClose} />;
    case 'condemn':
      return <CondemnForm thing={thing} pictures={standing(thing)} onClose={onClose} />;
    case 'disposal':
      return <DisposalForm thing={thing} owner={owner} onClose={onClose} />;
    case 'owner':
      return <OwnerForm thing={thing} owner={owner} onClose={onClose} />;
    case 'keep':
      return <KeepForm thing={thing} onClose={onClose} />;
  }
}

function standing({ pictures }: Thing): number {
  return pictures.filter(({ struckOut }) => struckOut === null).length;
}
