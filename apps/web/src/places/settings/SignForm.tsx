import type { EditSign } from '@corewright/contracts/identify';
import { lacksOfSign } from '@corewright/identify/lacks-of-sign';
import { useState } from 'react';
import { fieldWords } from '../../api/field-words.js';
import { versionShownBy } from '../../api/problem.js';
import { Acts, Button } from '../../ui/Button.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { type Choice, SelectField } from '../../ui/SelectField.js';
import { TextField } from '../../ui/TextField.js';
import { usePutSign } from './actions.js';

const KINDS: readonly Choice<EditSign['kind']>[] = [
  { value: 'stamp', label: 'stamp' },
  { value: 'casting', label: 'casting number' },
  { value: 'feature', label: 'feature, seen or not' },
  { value: 'count', label: 'count' },
];
const WEIGHTS: readonly Choice<EditSign['weight']>[] = [
  { value: 'hint', label: 'a hint' },
  { value: 'good', label: 'good' },
  { value: 'decisive', label: 'decisive: if it is otherwise, it is not this type' },
];

export interface SignFormProps {
  readonly typeId: string;
  readonly id: string;
  /** null for a new one */
  readonly version: number | null;
  readonly sign: EditSign;
  readonly label: string;
  readonly onDone: () => void;
  readonly onLeave?: () => void;
}

type SignKeyed = Omit<EditSign, 'yearFirst' | 'yearLast'> & { yearFirst: string; yearLast: string; version: number | null };

const yearOf = (text: string): number | null => (/^\s*\d{4}\s*$/.test(text) ? Number(text) : null);
const isYear = (text: string): boolean => text.trim() === '' || yearOf(text) !== null;

/** A sign by which a type is known: what to look for, where, and what it weighs. */
export function SignForm({ typeId, id, version, sign, label, onDone, onLeave }: SignFormProps) {
  const [keyed, setKeyed] = useState<SignKeyed>(() => ({
    ...sign,
    yearFirst: sign.yearFirst?.toString() ?? '',
    yearLast: sign.yearLast?.toString() ?? '',
    version,
  }));
  const [wasTried, setWasTried] = useState(false);
  const put = usePutSign(typeId);
  const change = (more: Partial<SignKeyed>) => setKeyed({ ...keyed, ...more });
  const { kind, position, pattern, words } = keyed;
  const lacks = lacksOfSign({ kind, position: position.trim(), pattern: pattern.trim(), words: words.trim() });
  const faultIn = (field: 'position' | 'pattern' | 'words') => {
    const lack = wasTried ? lacks.find((each) => each.field === field) : undefined;
    return lack?.sentence ?? fieldWords(put.error, field);
  };
  const faultOfYear = (field: 'yearFirst' | 'yearLast') => {
    if (wasTried && !isYear(keyed[field])) return 'Key a year of four figures, or leave it empty.';
    return fieldWords(put.error, field);
  };
  const keep = () => {
    setWasTried(true);
    if (lacks.length > 0 || !isYear(keyed.yearFirst) || !isYear(keyed.yearLast) || put.isPending) return;
    const { version: seen, ...rest } = keyed;
    const sent = { ...rest, yearFirst: yearOf(keyed.yearFirst), yearLast: yearOf(keyed.yearLast) };
    put.mutate(
      { id, version: seen, sign: sent },
      {
        onSuccess: onDone,
        onError: (error) =>
          setKeyed((now) => ({ ...now, version: now.version === null ? null : versionShownBy(error, now.version) })),
      },
    );
  };
  return (
    <Form label={label} onSubmit={keep}>
      <FieldPair>
        <SelectField label="Kind of sign" value={kind} choices={KINDS} onChange={(each) => change({ kind: each })} />
        <SelectField label="What it weighs" value={keyed.weight} choices={WEIGHTS} onChange={(weight) => change({ weight })} />
        {kind !== 'feature' && (
          <TextField
            label={kind === 'count' ? 'What is counted' : 'Where it stands'}
            value={position}
            onChange={(text) => change({ position: text })}
            note={kind === 'count' ? 'wheel studs on each hub' : 'on the carrier'}
            error={faultIn('position')}
            maxLength={200}
          />
        )}
        {kind !== 'feature' && (
          <TextField
            label={kind === 'count' ? 'How many' : 'What stands there'}
            value={pattern}
            onChange={(text) => change({ pattern: text })}
            note={kind === 'count' ? undefined : '? for any one character, * for any number of them'}
            error={faultIn('pattern')}
            maxLength={200}
          />
        )}
        {(kind === 'stamp' || kind === 'casting') && (
          <TextField
            label="It means from the year"
            value={keyed.yearFirst}
            onChange={(yearFirst) => change({ yearFirst })}
            error={faultOfYear('yearFirst')}
            inputMode="numeric"
            maxLength={4}
          />
        )}
        {(kind === 'stamp' || kind === 'casting') && (
          <TextField
            label="To the year"
            value={keyed.yearLast}
            onChange={(yearLast) => change({ yearLast })}
            error={faultOfYear('yearLast')}
            inputMode="numeric"
            maxLength={4}
          />
        )}
      </FieldPair>
      <TextField
        label={kind === 'feature' ? 'What to look for' : 'In words'}
        value={words}
        onChange={(text) => change({ words: text })}
        note={kind === 'feature' ? 'so that somebody can answer yes or no' : undefined}
        error={faultIn('words')}
        maxLength={200}
      />
      {put.error !== null && <Failure word="Not kept" error={put.error} kept="What you keyed is kept." />}
      <Acts>
        <Button type="submit" isPending={put.isPending}>
          Keep the sign
        </Button>
        {onLeave !== undefined && (
          <Button look="plain" onPress={onLeave}>
            Leave it
          </Button>
        )}
      </Acts>
    </Form>
  );
}
