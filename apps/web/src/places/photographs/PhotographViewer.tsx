import type { PictureShown } from '@corewright/contracts/pictures';
import { useState } from 'react';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { CheckField } from '../../ui/CheckField.js';
import { Form } from '../../ui/Form.js';
import { FormFoot } from '../../ui/FormFoot.js';
import { Sheet } from '../../ui/Sheet.js';
import { sayInstant } from '../../ui/say-when.js';
import { TextField } from '../../ui/TextField.js';
import { useOneForm } from '../../ui/use-one-form.js';
import { WhyForm } from '../../ui/WhyForm.js';
import { useEditPicture, useStrikePicture } from './actions.js';
import styles from './Photographs.module.css';
import { pictureName } from './say-photographs.js';

export interface PhotographViewerProps {
  readonly pictures: readonly PictureShown[];
  readonly subject: string;
  readonly openId: string;
  readonly onOpen: (id: string | null) => void;
}

/** One photograph as large as the screen allows; the arrow keys go to the others, Escape goes back. */
export function PhotographViewer({ pictures, subject, openId, onOpen }: PhotographViewerProps) {
  const index = pictures.findIndex(({ id }) => id === openId);
  const picture = pictures[index];
  if (picture === undefined) return null;
  const go = (step: 1 | -1) => {
    const next = pictures[index + step];
    if (next !== undefined) onOpen(next.id);
  };
  const name = pictureName(picture, index, subject);
  return (
    <Sheet title={`${index + 1} of ${pictures.length}`} label={name} onClose={() => onOpen(null)} onArrow={go}>
      <div className={styles.picture}>
        <img src={`/api/pictures/${picture.id}/full`} alt={name} />
      </div>
      <div className={styles.foot}>
        <p>
          {picture.words !== '' && <b>{picture.words} </b>}
          <span className={styles.facts}>
            {picture.shows === 'marks' && 'Shows the marks. '}
            Taken {sayInstant(picture.takenAt, new Date())}
            {picture.takenBy !== '' && ` by ${picture.takenBy}`}.
            {picture.struckOut !== null && ` Struck out by ${picture.struckOut.by}: ${picture.struckOut.why}.`}
          </span>
        </p>
        <PictureActs
          key={picture.id}
          picture={picture}
          onPrevious={() => go(-1)}
          onNext={() => go(1)}
          isFirst={index === 0}
          isLast={index === pictures.length - 1}
        />
      </div>
    </Sheet>
  );
}

interface PictureActsProps {
  readonly picture: PictureShown;
  readonly onPrevious: () => void;
  readonly onNext: () => void;
  readonly isFirst: boolean;
  readonly isLast: boolean;
}

function PictureActs({ picture, onPrevious, onNext, isFirst, isLast }: PictureActsProps) {
  const { which, open, close } = useOneForm<'words' | 'strike'>();
  if (which === 'words') return <WordsForm picture={picture} onClose={close} />;
  if (which === 'strike') return <StrikeForm picture={picture} onClose={close} />;
  return (
    <Acts>
      {!isFirst && <Button onPress={onPrevious}>The one before</Button>}
      {!isLast && <Button onPress={onNext}>The next one</Button>}
      {picture.struckOut === null && <Button onPress={() => open('words')}>Write under it</Button>}
      <ButtonLink href={`/api/pictures/${picture.id}/original`} opensDocument>
        As it was taken, {picture.width} × {picture.height}
      </ButtonLink>
      {picture.struckOut === null && (
        <Button look="plain" onPress={() => open('strike')}>
          Strike it out
        </Button>
      )}
    </Acts>
  );
}

interface PictureFormProps {
  readonly picture: PictureShown;
  readonly onClose: () => void;
}

function WordsForm({ picture, onClose }: PictureFormProps) {
  const [words, setWords] = useState(picture.words);
  const [ofMarks, setOfMarks] = useState(picture.shows === 'marks');
  const edit = useEditPicture(picture, onClose);
  const mayShowMarks = picture.shows === 'thing' || picture.shows === 'marks';
  return (
    <Form label="Write under the photograph" onSubmit={() => edit.mutate({ words, ofMarks })}>
      <TextField label="What it shows" value={words} onChange={setWords} autoFocus maxLength={200} />
      {mayShowMarks && (
        <CheckField isSelected={ofMarks} onChange={setOfMarks}>
          it shows the marks
        </CheckField>
      )}
      <FormFoot act="Write it" failed="Not written" sending={edit} onClose={onClose} />
    </Form>
  );
}

function StrikeForm({ picture, onClose }: PictureFormProps) {
  const strike = useStrikePicture(picture, onClose);
  return (
    <WhyForm
      label="Strike the photograph out"
      question="Why it is struck out"
      note="it stays on the record with your name"
      act="Strike it out"
      isGrave
      failed="Not struck out"
      sending={strike}
      onWhy={(why) => strike.mutate(why)}
      onClose={onClose}
    />
  );
}
