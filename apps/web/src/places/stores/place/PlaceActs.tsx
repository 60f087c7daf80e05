import type { PlacePage } from '@corewright/contracts/places';
import { useState } from 'react';
import { useKeepsBooks, useWorksWithThings } from '../../../api/session.js';
import { Button, ButtonLink } from '../../../ui/Button.js';
import { FoldedActs } from '../../../ui/FoldedActs.js';
import { Failure } from '../../../ui/Problem.js';
import { useOneForm } from '../../../ui/use-one-form.js';
import { HoldPlaceForm } from '../apart/HoldForms.js';
import { useCarryBack, usePutBack } from './actions.js';
import { CarryForm, CloseForm, MoveContentsForm } from './PlaceForms.js';
import styles from './PlaceScreen.module.css';
import { AddPlaceForm, EditPlaceForm } from './WhatItIsForm.js';

type PlaceAct = 'contents' | 'hold' | 'carry' | 'edit' | 'add' | 'close' | 'open';

const WORDS: Readonly<Record<PlaceAct, string>> = {
  contents: 'Move all that lies here',
  hold: 'Hold back all that lies here',
  carry: 'Carry it elsewhere',
  edit: 'Name and kind',
  add: 'Add a place in it',
  close: 'Close it',
  open: 'Open it again',
};

/** What was just done here, and the way back from it. */
interface Done {
  readonly words: string;
  readonly back: { readonly actId: string } | { readonly parentId: string | null } | null;
}

/** What can be done with a place from its page: label it, empty it into another, carry it, say what it is, close it. */
export function PlaceActs({ place }: { readonly place: PlacePage }) {
  const { which, open, close } = useOneForm<PlaceAct>();
  const [done, setDone] = useState<Done | null>(null);
  const offered = useOffered(place);
  const opener = (act: PlaceAct) =>
    offered.has(act) &&
    act !== which && (
      <Button key={act} onPress={() => open(act)}>
        {WORDS[act]}
      </Button>
    );
  const finish = (said: Done | null) => {
    if (said !== null) setDone(said);
    close();
  };
  return (
    <div>
      <FoldedActs
        more="More to do with it"
        daily={
          <>
            <ButtonLink href={`/labels/${place.code}`}>Label of this place</ButtonLink>
            {place.parentId !== null && <ButtonLink href={`/stores/places/${place.parentId}`}>The place around it</ButtonLink>}
            {opener('contents')}
            {opener('open')}
          </>
        }
        groups={[
          {
            name: 'All that lies here',
            acts: [
              opener('hold'),
              <ButtonLink key="as it stood" href={`/stores/as-it-stood?place=${place.id}`}>
                As it stood
              </ButtonLink>,
            ],
          },
          {
            name: 'The place itself',
            acts: [opener('carry'), opener('add'), opener('edit'), opener('close')],
          },
        ]}
        inHand={which === null ? null : WORDS[which]}
      >
        {which !== null && <PlaceForm key={which} act={which} place={place} onDone={finish} />}
      </FoldedActs>
      {done !== null && <DoneWords placeId={place.id} done={done} onBack={() => setDone(null)} />}
    </div>
  );
}

/** Only what this person may do, and what there is to do it with. */
function useOffered({ kind, contents, isClosed }: PlacePage): ReadonlySet<PlaceAct> {
  const [works, keeps] = [useWorksWithThings(), useKeepsBooks()];
  const isTray = kind === 'tray';
  const holdsGoods = !isTray && contents.length > 0;
  const offered: [boolean, PlaceAct][] = [
    [works && holdsGoods, 'contents'],
    [keeps && holdsGoods, 'hold'],
    [works, 'carry'],
    [keeps && !isTray && !isClosed, 'add'],
    [keeps, 'edit'],
    [keeps && !isTray && !isClosed, 'close'],
    [keeps && !isTray && isClosed, 'open'],
  ];
  return new Set(offered.filter(([may]) => may).map(([, act]) => act));
}

interface PlaceFormProps {
  readonly act: PlaceAct;
  readonly place: PlacePage;
  /** null: left, or nothing is to be said */
  readonly onDone: (done: Done | null) => void;
}

function PlaceForm({ act, place, onDone }: PlaceFormProps) {
  const leave = () => onDone(null);
  switch (act) {
    case 'contents':
      return <MoveContentsForm place={place} onDone={({ words, actId }) => onDone({ words, back: { actId } })} onClose={leave} />;
    case 'hold':
      return <HoldPlaceForm place={place} onClose={(words) => onDone(words === '' ? null : { words, back: null })} />;
    case 'carry':
      return (
        <CarryForm
          place={place}
          onDone={({ words, before }) => onDone({ words, back: { parentId: before?.id ?? null } })}
          onClose={leave}
        />
      );
    case 'edit':
      return <EditPlaceForm place={place} onClose={leave} />;
    case 'add':
      return (
        <AddPlaceForm
          around={place}
          onDone={(added) => onDone({ words: `${added.name} stands in it now; its label can be printed.`, back: null })}
          onClose={leave}
        />
      );
    case 'close':
    case 'open':
      return <CloseForm place={place} onDone={leave} onClose={leave} />;
  }
}

function DoneWords({ placeId, done, onBack }: { readonly placeId: string; readonly done: Done; readonly onBack: () => void }) {
  const puttingBack = usePutBack(onBack);
  const carryingBack = useCarryBack(placeId, onBack);
  const { back } = done;
  const error = puttingBack.error ?? carryingBack.error;
  const goBack = () => {
    if (back === null) return;
    if ('actId' in back) puttingBack.mutate(back.actId);
    else carryingBack.mutate(back);
  };
  return (
    <div className={styles.done} role="status">
      <p className="read">{done.words}</p>
      {back !== null && (
        <Button onPress={goBack} isPending={puttingBack.isPending || carryingBack.isPending}>
          Put it back
        </Button>
      )}
      {error !== null && <Failure error={error} word="Not put back" />}
    </div>
  );
}
