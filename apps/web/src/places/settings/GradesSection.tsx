import type { Grade, GradeScale } from '@corewright/contracts/catalogue';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { fieldWords } from '../../api/field-words.js';
import { versionShownBy } from '../../api/problem.js';
import { newKey } from '../../api/uuid.js';
import { Acts, Button } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { Fold } from '../../ui/Fold.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { SelectField } from '../../ui/SelectField.js';
import { type Column, Table } from '../../ui/Table.js';
import { TextField } from '../../ui/TextField.js';
import { gradesQuery } from '../goods-in/queries.js';
import { usePutGrade } from './actions.js';

const SCALES: readonly { readonly scale: GradeScale; readonly words: string }[] = [
  { scale: 'core', words: 'Grades of cores' },
  { scale: 'part', words: 'Grades of parts' },
];

/** The workshop's own scales of condition. */
export function GradesSection() {
  const found = useQuery(gradesQuery);
  return (
    <Section title="Grades">
      <p className="quiet">
        Each letter with what somebody looks at to give it. One that is no longer offered stays on whatever bears it.
      </p>
      {found.isPending && <Waiting>The grades are being fetched.</Waiting>}
      {found.error !== null && found.data === undefined && <Failure word="Not shown" error={found.error} />}
      {found.data !== undefined &&
        SCALES.map(({ scale, words }) => (
          <Scale key={scale} scale={scale} words={words} grades={found.data.grades.filter((grade) => grade.scale === scale)} />
        ))}
    </Section>
  );
}

interface ScaleProps {
  readonly scale: GradeScale;
  readonly words: string;
  readonly grades: readonly Grade[];
}

function Scale({ scale, words, grades }: ScaleProps) {
  const [edited, setEdited] = useState<string | null>(null);
  const put = usePutGrade();
  const offer = ({ id, version, ...grade }: Grade) => put.mutate({ id, version, grade: { ...grade, retired: !grade.retired } });
  const columns: readonly Column<Grade>[] = [
    { key: 'letter', head: 'Grade', isLead: true, cell: ({ letter }) => <b>{letter}</b> },
    { key: 'meaning', head: 'What it means', isWide: true, cell: ({ meaning }) => meaning },
    { key: 'state', head: 'State', cell: ({ retired }) => (retired ? 'no longer offered' : 'offered') },
    {
      key: 'acts',
      head: 'Acts',
      cell: (grade) => (
        <Acts>
          <Button look="plain" label={`Change grade ${grade.letter} of ${scale}s`} onPress={() => setEdited(grade.id)}>
            Change
          </Button>
          <Button
            look="plain"
            label={`${grade.retired ? 'Offer it again' : 'No longer offer it'}: grade ${grade.letter} of ${scale}s`}
            onPress={() => offer(grade)}
          >
            {grade.retired ? 'Offer it again' : 'No longer offer it'}
          </Button>
        </Acts>
      ),
    },
  ];
  const one = grades.find(({ id }) => id === edited) ?? null;
  return (
    <Fold summary={`${words}: ${sayOffered(grades)}`}>
      <Table caption={`${words}, the best first`} columns={columns} rows={grades} rowKey={({ id }) => id} />
      {put.error !== null && edited === null && <Failure word="Not kept" error={put.error} />}
      {edited === null ? (
        <Acts>
          <Button label={`Add a grade for ${scale}s`} onPress={() => setEdited('new')}>
            Add a grade
          </Button>
        </Acts>
      ) : (
        <GradeForm key={edited} scale={scale} grade={one} count={grades.length} onDone={() => setEdited(null)} />
      )}
    </Fold>
  );
}

function sayOffered(grades: readonly Grade[]): string {
  const offered = grades.filter(({ retired }) => !retired).map(({ letter }) => letter);
  return offered.length === 0 ? 'none yet' : offered.join(', ');
}

interface GradeFormProps {
  readonly scale: GradeScale;
  /** null for a new one */
  readonly grade: Grade | null;
  readonly count: number;
  readonly onDone: () => void;
}

function GradeForm({ scale, grade, count, onDone }: GradeFormProps) {
  const [id] = useState(() => grade?.id ?? newKey());
  const [keyed, setKeyed] = useState(() => ({
    letter: grade?.letter ?? '',
    meaning: grade?.meaning ?? '',
    rank: grade?.rank ?? count + 1,
    version: grade?.version ?? null,
  }));
  const [wasTried, setWasTried] = useState(false);
  const put = usePutGrade();
  const keep = () => {
    setWasTried(true);
    const { letter, meaning, rank, version } = keyed;
    if (letter.trim() === '' || meaning.trim() === '' || put.isPending) return;
    put.mutate(
      { id, version, grade: { scale, letter, meaning, rank, retired: grade?.retired ?? false } },
      {
        onSuccess: onDone,
        onError: (error) =>
          setKeyed((now) => ({ ...now, version: now.version === null ? null : versionShownBy(error, now.version) })),
      },
    );
  };
  const missing = (text: string, words: string) => (wasTried && text.trim() === '' ? words : null);
  const places = Array.from({ length: grade === null ? count + 1 : count }, (_, index) => String(index + 1));
  return (
    <Form label={grade === null ? `A new grade for ${scale}s` : `Change grade ${grade.letter} of ${scale}s`} onSubmit={keep}>
      <FieldPair>
        <TextField
          label="Letter"
          value={keyed.letter}
          onChange={(letter) => setKeyed({ ...keyed, letter })}
          note="stays, once something bears it"
          error={missing(keyed.letter, 'Key the letter.') ?? fieldWords(put.error, 'letter')}
          autoFocus
          maxLength={10}
        />
        <SelectField
          label="Stands"
          value={String(keyed.rank)}
          choices={places.map((place) => ({ value: place, label: place === '1' ? '1, the best' : place }))}
          onChange={(rank) => setKeyed({ ...keyed, rank: Number(rank) })}
          note="the others make room"
        />
      </FieldPair>
      <TextField
        label="What it means"
        value={keyed.meaning}
        onChange={(meaning) => setKeyed({ ...keyed, meaning })}
        note="what somebody looks at to give it"
        error={missing(keyed.meaning, 'Say what it means, so that two people grade alike.')}
        lines={2}
        maxLength={1000}
      />
      {put.error !== null && <Failure word="Not kept" error={put.error} kept="What you keyed is kept." />}
      <Acts>
        <Button look="main" type="submit" isPending={put.isPending}>
          Keep it
        </Button>
        <Button look="plain" onPress={onDone}>
          Leave it
        </Button>
      </Acts>
    </Form>
  );
}
