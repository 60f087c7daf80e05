import type { Thing } from '@corewright/contracts/stores';
import { ApartForm } from './apart/ApartForm.js';
import { BindSetForm } from './BindSetForm.js';
import { InspectForm } from './InspectForm.js';
import { NotThereForm } from './NotThereForm.js';
import { PreserveForm } from './PreserveForm.js';
import { ReplaceCasingForm } from './ReplaceCasingForm.js';
import { MergeForm } from './regroup/MergeForm.js';
import { SplitForm } from './regroup/SplitForm.js';
import type { ThingAct } from './thing-acts.js';

export interface ThingFormProps {
  readonly act: ThingAct;
  readonly thing: Thing;
  readonly onClose: () => void;
}

/** The form of an act on a thing; nothing where the thing has become one that has no such act. */
export function ThingForm({ act, thing, onClose }: ThingFormProps) {
  switch (act) {
    case 'not there': {
      const where = thing.holdings.filter(({ holderKind }) => holderKind === 'place').map(({ words }) => words);
      return <NotThereForm thing={thing} placeId={null} where={where.join(' and ')} onClose={onClose} />;
    }
    case 'casing':
      return <ReplaceCasingForm unitId={thing.id} onClose={onClose} />;
    case 'bind':
      return <BindSetForm thing={thing} onClose={onClose} />;
    case 'split':
      return thing.kind === 'lot' && <SplitForm lot={thing} onClose={onClose} />;
    case 'merge':
      return <MergeForm lotId={thing.id} onClose={onClose} />;
    case 'preserve':
      return thing.kind === 'lot' && <PreserveForm lot={thing} onClose={onClose} />;
    case 'inspect':
      return thing.kind === 'lot' && <InspectForm lot={thing} onClose={onClose} />;
    default:
      return <ApartForm act={act} thing={thing} onClose={onClose} />;
  }
}
