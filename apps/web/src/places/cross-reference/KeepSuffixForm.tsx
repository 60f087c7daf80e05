import { type Aspect, aspects, valuesOf } from '@corewright/bearings/bearing-types';
import type { KeepSuffix, SuffixShown } from '@corewright/contracts/bearings';
import { useState } from 'react';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { type Choice, SelectField } from '../../ui/SelectField.js';
import { TextField } from '../../ui/TextField.js';
import { KeepActs } from './KeepBearingForm.js';
import { aspectWords } from './suffix-words.js';
import { useTableChange } from './table-actions.js';

const aspectChoices: readonly Choice<Aspect>[] = aspects.map((aspect) => ({ value: aspect, label: aspectWords[aspect] }));

export interface KeepSuffixFormProps {
  /** The row that is changed; null for a new one. */
  readonly row: SuffixShown | null;
  readonly onClose: () => void;
}

/** What a maker's suffix means, by a list that comparing bearings knows. */
export function KeepSuffixForm({ row, onClose }: KeepSuffixFormProps) {
  const [maker, setMaker] = useState(row?.maker ?? '');
  const [suffix, setSuffix] = useState(row?.suffix ?? '');
  const [aspect, setAspect] = useState<Aspect>(aspects.find((each) => each === row?.aspect) ?? 'seals');
  const [value, setValue] = useState(row?.value ?? valuesOf.seals?.[0] ?? '');
  const [words, setWords] = useState(row?.words ?? '');
  const [source, setSource] = useState(row?.source ?? '');
  const [wasTried, setWasTried] = useState(false);
  const change = useTableChange<KeepSuffix>('suffixes', onClose);
  const values = valuesOf[aspect];
  const lacks = (text: string, ask: string) => (wasTried && text.trim() === '' ? ask : null);
  const submit = () => {
    setWasTried(true);
    const isWhole = [suffix, value, words, source].every((text) => text.trim() !== '');
    if (isWhole && !change.isPending) change.mutate({ maker, suffix, aspect, value, words, source });
  };
  const pickAspect = (picked: Aspect) => {
    setAspect(picked);
    setValue(valuesOf[picked]?.[0] ?? '');
  };
  return (
    <Form label="A suffix of our own" onSubmit={submit}>
      <FieldPair>
        <TextField
          label="Suffix"
          value={suffix}
          onChange={setSuffix}
          isDisabled={row !== null}
          note="as marked, without what separates it: 2RS, ZZ"
          error={lacks(suffix, 'Key the suffix.')}
          maxLength={20}
          autoFocus={row === null}
        />
        <TextField
          label="Whose it is"
          value={maker}
          onChange={setMaker}
          isDisabled={row !== null}
          note="empty where several makers mark alike"
          maxLength={200}
        />
        <SelectField label="It tells of" value={aspect} choices={aspectChoices} onChange={pickAspect} />
        {values === null ? (
          <TextField
            label="It means"
            value={value}
            onChange={setValue}
            note="one word of your own"
            error={lacks(value, 'Say what it means.')}
            maxLength={200}
          />
        ) : (
          <SelectField
            label="It means"
            value={value}
            choices={values.map((each) => ({ value: each, label: each }))}
            onChange={setValue}
          />
        )}
      </FieldPair>
      <TextField label="In words" value={words} onChange={setWords} error={lacks(words, 'Say it in words.')} maxLength={200} />
      <TextField
        label="Source"
        value={source}
        onChange={setSource}
        error={lacks(source, 'Say where that stands.')}
        maxLength={200}
      />
      {change.isError && <Failure error={change.error} word="Not kept" kept="What you keyed is kept." />}
      <KeepActs isPending={change.isPending} onClose={onClose} />
    </Form>
  );
}
