import type { Thing } from '@corewright/contracts/stores';
import type { ReactNode } from 'react';
import { useWorksWithThings } from '../../api/session.js';
import { Button, ButtonLink } from '../../ui/Button.js';
import { FoldedActs } from '../../ui/FoldedActs.js';
import { useOneForm } from '../../ui/use-one-form.js';
import { ChoosePictures, TakePhotographs } from '../photographs/TakePhotographs.js';
import { ThingForm } from './ThingForm.js';
import { isInPlace, type ThingAct, useThingActs, WORDS } from './thing-acts.js';

/** What can be done with a thing from its page. What is done daily stands, and so does what its state waits for; the rest is folded. */
export function ThingActs({ thing }: { readonly thing: Thing }) {
  const { which, open, close } = useOneForm<ThingAct>();
  const offered = useThingActs(thing);
  const maySell = useWorksWithThings() && thing.kind !== 'unsorted' && thing.owner === null && isInPlace(thing);
  const opener = (act: ThingAct) =>
    offered.has(act) &&
    act !== which && (
      <Button key={act} onPress={() => open(act)}>
        {WORDS[act]}
      </Button>
    );
  const isUnit = thing.kind === 'unit';
  const unit = ofUnit(thing);
  return (
    <FoldedActs
      more="More to do with it"
      daily={
        <>
          <ButtonLink href={`/labels/${thing.code}`}>Label, again</ButtonLink>
          <TakePhotographs subjectId={thing.id} taken={takenOf(thing)} isCameraAlone />
          {unit.daily}
          {!isUnit && opener('not there')}
          {opener('lift')}
          {opener('disposal')}
        </>
      }
      groups={[
        {
          name: 'What it is, how good',
          acts: [opener('inspect'), opener('preserve'), ...unit.further, <ChoosePictures key="pictures" subjectId={thing.id} />],
        },
        { name: 'Parted and joined', acts: [opener('split'), opener('merge'), opener('bind'), opener('casing')] },
        { name: 'Set apart', acts: [opener('hold'), opener('hold on'), opener('condemn')] },
        { name: 'Where it is', acts: [isUnit && opener('not there')] },
        {
          name: 'Owner and sale',
          acts: [opener('owner'), opener('keep'), maySell && link(`/stores/sell?code=${thing.code}`, 'Sell it')],
        },
      ]}
      inHand={which === null ? null : WORDS[which]}
    >
      {which !== null && <ThingForm key={which} act={which} thing={thing} onClose={close} />}
    </FoldedActs>
  );
}

const link = (href: string, words: string) => (
  <ButtonLink key={href} href={href}>
    {words}
  </ButtonLink>
);

/** What is done with a unit on a screen of its own. */
function ofUnit(thing: Thing): { readonly daily: readonly ReactNode[]; readonly further: readonly ReactNode[] } {
  if (thing.kind !== 'unit') return { daily: [], further: [] };
  const { id, code, stage, job, unitType } = thing;
  return {
    daily: [
      stage !== 'stripped' && link(`/bench/strip-down/${id}`, 'Strip it down'),
      job === null && link(`/jobs/new?unit=${code}`, 'Open a job on it'),
    ],
    further: [
      link(`/stores/things/${id}/identify`, 'What is it?'),
      unitType !== null &&
        (stage === 'core' || stage === 'in work') &&
        link(`/stores/things/${id}/acceptance`, 'Acceptance sheet'),
      unitType !== null && link(`/stores/yields?type=${unitType.id}`, 'What such cores have given'),
    ],
  };
}

function takenOf({ pictures }: Thing): number {
  return pictures.filter(({ struckOut }) => struckOut === null).length;
}
