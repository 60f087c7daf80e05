import type { ThingAnswer } from '@corewright/contracts/ask-around';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { newKey } from '../../api/uuid.js';
import { Form } from '../../ui/Form.js';
import { FormFoot } from '../../ui/FormFoot.js';
import { Section } from '../../ui/Section.js';
import { sayInstant } from '../../ui/say-when.js';
import { TextField } from '../../ui/TextField.js';
import { answersQuery, useRecordAnswer } from './ask-around-queries.js';

/** What those who were asked said of a thing, on its page; nothing where nobody has. */
export function AnswersSection({ thingId }: { readonly thingId: string }) {
  const answers = useQuery(answersQuery(thingId)).data?.answers ?? [];
  if (answers.length === 0) return null;
  return (
    <Section title="What others said it is" aside="newest first">
      <AnswersTold answers={answers} />
    </Section>
  );
}

export function AnswersTold({ answers }: { readonly answers: readonly ThingAnswer[] }) {
  return (
    <ul>
      {answers.map((answer) => (
        <li key={answer.id}>
          <b>{answer.toldBy}:</b> {answer.words}{' '}
          <span className="quiet">
            {sayInstant(answer.at, new Date())}, {answer.by}
          </span>
        </li>
      ))}
    </ul>
  );
}

/** Somebody who was asked knows: who it was, and what it is. */
export function AnswerForm({ thingId, onClose }: { readonly thingId: string; readonly onClose: () => void }) {
  const [id] = useState(newKey);
  const [keyed, setKeyed] = useState({ toldBy: '', words: '' });
  const [wasTried, setWasTried] = useState(false);
  const record = useRecordAnswer(thingId, onClose);
  const lacks = (text: string, ask: string) => (wasTried && text.trim() === '' ? ask : null);
  const submit = () => {
    setWasTried(true);
    if (keyed.toldBy.trim() !== '' && keyed.words.trim() !== '' && !record.isPending) record.mutate({ id, ...keyed });
  };
  return (
    <Form label="Somebody knows" onSubmit={submit}>
      <TextField
        label="Who said so"
        value={keyed.toldBy}
        onChange={(toldBy) => setKeyed({ ...keyed, toldBy })}
        error={lacks(keyed.toldBy, 'Say who it was.')}
        autoFocus
        maxLength={200}
      />
      <TextField
        label="It is"
        value={keyed.words}
        onChange={(words) => setKeyed({ ...keyed, words })}
        note="in their words; it is named where you name it"
        error={lacks(keyed.words, 'Say what it is.')}
        maxLength={200}
      />
      <FormFoot act="Keep the answer" failed="Not kept" sending={record} onClose={onClose} />
    </Form>
  );
}
