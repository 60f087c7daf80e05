import type { Thing } from '@corewright/contracts/stores';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { meQuery, useKeepsBooks, useWorksWithThings } from '../../../api/session.js';
import { Acts, Button } from '../../../ui/Button.js';
import styles from '../ThingScreen.module.css';
import { standsApartQuery } from './apart-queries.js';
import { CondemnForm, DisposalForm } from './CondemnForms.js';
import { HoldForm, HoldOnForm, LiftForm } from './HoldForms.js';
import { KeepForm } from './KeptForms.js';
import { OwnerForm } from './OwnerForm.js';

type FormOpen = 'hold' | 'lift' | 'hold on' | 'condemn' | 'disposal' | 'owner' | 'keep';

const WORDS: Readonly<Record<FormOpen, string>> = {
  hold: 'Hold it back',
  lift: 'Lift the hold',
  'hold on': 'Keep it held back',
  condemn: 'Condemn it',
  disposal: 'What becomes of it',
  owner: 'Whose it is',
  keep: 'Keep it for its owner',
};

/** What sets a thing apart from stock, or brings it back: holds, condemning, whose it is, waiting for its owner. */
export function ApartActs({ thing }: { readonly thing: Thing }) {
  const [form, setForm] = useState<FormOpen | null>(null);
  const offered = useOffered(thing);
  // an answer that comes late closes its own form, not one that was opened meanwhile
  const close = (which: FormOpen) => setForm((open) => (open === which ? null : open));
  if (offered.length === 0) return null;
  return (
    <div className={styles.hold}>
      <Acts>
        {offered
          .filter((each) => each !== form)
          .map((each) => (
            <Button key={each} onPress={() => setForm(each)}>
              {WORDS[each]}
            </Button>
          ))}
      </Acts>
      {form !== null && (
        <div className={styles.hold}>
          <OpenForm form={form} thing={thing} onClose={() => close(form)} />
        </div>
      )}
    </div>
  );
}

function OpenForm({ form, thing, onClose }: { readonly form: FormOpen; readonly thing: Thing; readonly onClose: () => void }) {
  const owner = thing.owner?.name ?? null;
  switch (form) {
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

/** Only what the server would let this person do: a hold that waits for somebody by name is not offered to others. */
function useOffered(thing: Thing): FormOpen[] {
  const { data: me } = useQuery(meQuery);
  const keeps = useKeepsBooks();
  const works = useWorksWithThings();
  const { data: apart } = useQuery(standsApartQuery(thing.id));
  if (!works || apart === undefined || me === undefined) return [];
  const isKept = apart.kept !== null;
  const isHere = thing.holdings.some(({ holderKind }) => holderKind === 'place');
  if (thing.condemned) return keeps && isHere && !isKept ? ['disposal'] : [];
  const hold = apart.heldBack;
  const named = hold?.mayLift ?? null;
  const standsIn = me.role === 'owner' && hold !== null && named !== null && hold.mayLiftWords !== named.name;
  const mayLift = hold !== null && !isKept && (named === null ? keeps : named.id === me.id || standsIn);
  const offered: [boolean, FormOpen][] = [
    [keeps && hold === null, 'hold'],
    [mayLift, 'lift'],
    [hold !== null && !isKept, 'hold on'],
    [keeps && thing.owner !== null && !isKept && isHere, 'keep'],
    [keeps && !isKept, 'owner'],
    [keeps && Number(thing.held) > 0, 'condemn'],
  ];
  return offered.filter(([may]) => may).map(([, act]) => act);
}
