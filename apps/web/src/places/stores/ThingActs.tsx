import type { Thing } from '@corewright/contracts/stores';
import { useState } from 'react';
import { useKeepsBooks, useWorksWithThings } from '../../api/session.js';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { TakePhotographs } from '../photographs/TakePhotographs.js';
import { ApartActs } from './apart/ApartActs.js';
import { BindSetForm } from './BindSetForm.js';
import { InspectForm } from './InspectForm.js';
import { NotThereForm } from './NotThereForm.js';
import { PreserveForm } from './PreserveForm.js';
import { ReplaceCasingForm } from './ReplaceCasingForm.js';
import { MergeForm } from './regroup/MergeForm.js';
import { SplitForm } from './regroup/SplitForm.js';
import styles from './ThingScreen.module.css';

/** What can be done with a thing from its page: label it again, photograph it, inspect it, hold it back, begin its job. */
export function ThingActs({ thing }: { readonly thing: Thing }) {
  const [form, setForm] = useState<'not there' | 'inspect' | 'preserve' | 'bind' | 'casing' | 'split' | 'merge' | null>(null);
  const mayChange = useKeepsBooks();
  const worksWithThings = useWorksWithThings();
  const mayBind = worksWithThings && (thing.kind === 'component' || (thing.kind === 'lot' && thing.held === '1'));
  const inPlaces = thing.holdings.filter(({ holderKind }) => holderKind === 'place');
  const mayMiss = worksWithThings && thing.missing === null && inPlaces.length > 0;
  const close = () => setForm(null);
  return (
    <div>
      <Acts>
        <ButtonLink href={`/labels/${thing.code}`}>Label, again</ButtonLink>
        <TakePhotographs subjectId={thing.id} taken={thing.pictures.filter(({ struckOut }) => struckOut === null).length} />
        {thing.kind === 'unit' && thing.stage !== 'stripped' && (
          <ButtonLink href={`/bench/strip-down/${thing.id}`}>Strip it down</ButtonLink>
        )}
        {thing.kind === 'unit' && thing.job === null && (
          <ButtonLink href={`/jobs/new?unit=${thing.code}`}>Open a job on it</ButtonLink>
        )}
        {thing.kind === 'unit' && <ButtonLink href={`/stores/things/${thing.id}/identify`}>What is it?</ButtonLink>}
        {thing.kind === 'unit' && thing.unitType !== null && (thing.stage === 'core' || thing.stage === 'in work') && (
          <ButtonLink href={`/stores/things/${thing.id}/acceptance`}>Acceptance sheet</ButtonLink>
        )}
        {mayChange && thing.kind === 'lot' && form !== 'inspect' && (
          <Button onPress={() => setForm('inspect')}>Inspect it</Button>
        )}
        {mayChange && thing.kind === 'lot' && thing.canBeBearing && form !== 'preserve' && (
          <Button onPress={() => setForm('preserve')}>Bearing: how preserved</Button>
        )}
        {thing.kind === 'unit' && thing.unitType !== null && (
          <ButtonLink href={`/stores/yields?type=${thing.unitType.id}`}>What such cores have given</ButtonLink>
        )}
        {worksWithThings && thing.kind === 'unit' && form !== 'casing' && (
          <Button onPress={() => setForm('casing')}>Another casing for its insides</Button>
        )}
        {mayBind && form !== 'bind' && <Button onPress={() => setForm('bind')}>Keep it together with another</Button>}
        {worksWithThings && thing.kind === 'lot' && inPlaces.length > 0 && form !== 'split' && (
          <Button onPress={() => setForm('split')}>Two bags in one</Button>
        )}
        {mayChange && thing.kind === 'lot' && inPlaces.length > 0 && form !== 'merge' && (
          <Button onPress={() => setForm('merge')}>The same as another</Button>
        )}
        {worksWithThings && thing.kind !== 'unsorted' && thing.owner === null && inPlaces.length > 0 && (
          <ButtonLink href={`/stores/sell?code=${thing.code}`}>Sell it</ButtonLink>
        )}
        {mayMiss && form !== 'not there' && <Button onPress={() => setForm('not there')}>Not there</Button>}
      </Acts>
      <ApartActs thing={thing} />
      {form === 'casing' && <ReplaceCasingForm unitId={thing.id} onClose={close} />}
      {form === 'bind' && <BindSetForm thing={thing} onClose={close} />}
      {form === 'not there' && (
        <div className={styles.hold}>
          <NotThereForm thing={thing} placeId={null} where={inPlaces.map(({ words }) => words).join(' and ')} onClose={close} />
        </div>
      )}
      {form === 'split' && thing.kind === 'lot' && <SplitForm lot={thing} onClose={close} />}
      {form === 'merge' && thing.kind === 'lot' && <MergeForm lotId={thing.id} onClose={close} />}
      {form === 'preserve' && thing.kind === 'lot' && <PreserveForm lot={thing} onClose={close} />}
      {form === 'inspect' && thing.kind === 'lot' && <InspectForm lot={thing} onClose={close} />}
    </div>
  );
}
