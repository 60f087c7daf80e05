import type { PlacePage } from '@corewright/contracts/places';
import { useState } from 'react';
import { useKeepsBooks, useWorksWithThings } from '../../../api/session.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Failure } from '../../../ui/Problem.js';
import { HoldPlaceForm } from '../apart/HoldForms.js';
import { useCarryBack, usePutBack } from './actions.js';
import { CarryForm, CloseForm, MoveContentsForm } from './PlaceForms.js';
import styles from './PlaceScreen.module.css';
import { AddPlaceForm, EditPlaceForm } from './WhatItIsForm.js';

type FormOpen = 'contents' | 'hold' | 'carry' | 'edit' | 'add' | 'close' | null;

/** What was just done here, and the way back from it. */
interface Done {
  readonly words: string;
  readonly back: { readonly actId: string } | { readonly parentId: string | null } | null;
}

/** What can be done with a place from its page: label it, empty it into another, carry it, say what it is, close it. */
export function PlaceActs({ place }: { readonly place: PlacePage }) {
  const [form, setForm] = useState<FormOpen>(null);
  const [done, setDone] = useState<Done | null>(null);
  const [worksWithThings, keepsBooks] = [useWorksWithThings(), useKeepsBooks()];
  const isTray = place.kind === 'tray';
  const close = () => setForm(null);
  // whoever opened another form meanwhile keeps it
  const finish = (which: FormOpen, said: Done) => {
    setDone(said);
    setForm((open) => (open === which ? null : open));
  };
  const opener = (which: FormOpen, words: string) => form !== which && <Button onPress={() => setForm(which)}>{words}</Button>;
  return (
    <div>
      <Acts>
        <ButtonLink href={`/labels/${place.code}`}>Label of this place</ButtonLink>
        <ButtonLink href={`/stores/as-it-stood?place=${place.id}`}>As it stood</ButtonLink>
        {place.parentId !== null && <ButtonLink href={`/stores/places/${place.parentId}`}>The place around it</ButtonLink>}
        {worksWithThings && !isTray && place.contents.length > 0 && opener('contents', 'Move all that lies here')}
        {keepsBooks && !isTray && place.contents.length > 0 && opener('hold', 'Hold back all that lies here')}
        {worksWithThings && opener('carry', 'Carry it elsewhere')}
        {keepsBooks && !isTray && !place.isClosed && opener('add', 'Add a place in it')}
        {keepsBooks && opener('edit', 'Name and kind')}
        {keepsBooks && !isTray && opener('close', place.isClosed ? 'Open it again' : 'Close it')}
      </Acts>
      {done !== null && <DoneWords placeId={place.id} done={done} onBack={() => setDone(null)} />}
      <div className={styles.form}>
        {form === 'contents' && (
          <MoveContentsForm
            place={place}
            onDone={({ words, actId }) => finish('contents', { words, back: { actId } })}
            onClose={close}
          />
        )}
        {form === 'hold' && (
          <HoldPlaceForm place={place} onClose={(words) => (words === '' ? close() : finish('hold', { words, back: null }))} />
        )}
        {form === 'carry' && (
          <CarryForm
            place={place}
            onDone={({ words, before }) => finish('carry', { words, back: { parentId: before?.id ?? null } })}
            onClose={close}
          />
        )}
        {form === 'edit' && <EditPlaceForm place={place} onClose={close} />}
        {form === 'add' && (
          <AddPlaceForm
            around={place}
            onDone={(added) => finish('add', { words: `${added.name} stands in it now; its label can be printed.`, back: null })}
            onClose={close}
          />
        )}
        {form === 'close' && <CloseForm place={place} onDone={close} onClose={close} />}
      </div>
    </div>
  );
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
