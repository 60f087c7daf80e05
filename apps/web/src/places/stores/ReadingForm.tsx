import type { KnownType } from '@corewright/contracts/identify';
import { questionOf } from '@corewright/identify/known-type';
import type { Question } from '@corewright/identify/questions';
import { CautionLine } from '../../ui/CautionLine.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Section } from '../../ui/Section.js';
import { type Choice, SelectField } from '../../ui/SelectField.js';
import { TextField } from '../../ui/TextField.js';
import type { ReadingKeyed } from './reading-keyed.js';
import { SignPictures } from './SignPictures.js';

export interface ReadingFormProps {
  readonly keyed: ReadingKeyed;
  readonly questions: readonly Question[];
  readonly types: readonly KnownType[];
  readonly onKeyed: (change: Partial<ReadingKeyed>) => void;
}

type Seen = 'not looked' | 'yes' | 'no';
const seen: readonly Choice<Seen>[] = [
  { value: 'not looked', label: 'not looked, or not to be seen' },
  { value: 'yes', label: 'yes' },
  { value: 'no', label: 'no' },
];

type TextName = 'maker' | 'serial' | 'marks' | 'castings' | 'driver' | 'driven' | 'ratioLeast' | 'ratioMost';

/** What stands on the unit and what was counted. Each key ranks the types anew; nothing is sent. */
export function ReadingForm({ keyed, questions, types, onKeyed }: ReadingFormProps) {
  const put = (name: TextName, text: string) => {
    const change: Partial<Record<TextName, string>> = { [name]: text };
    onKeyed(change);
  };
  const field = (name: TextName, label: string, note?: string) => (
    <TextField label={label} value={keyed[name]} onChange={(text) => put(name, text)} note={note} maxLength={200} />
  );
  return (
    <Section title="What stands on it" aside="? for what cannot be read">
      <Form label="What stands on it" onSubmit={() => undefined}>
        <FieldPair>
          {field('maker', 'Maker’s name')}
          {field('serial', 'Serial number', 'with its letters: WD7 33?6')}
          {field('castings', 'Casting numbers', 'several set off by a comma; never a part number')}
          {field('marks', 'Other marks', 'stamped or painted')}
          {field('driver', 'Teeth of the driver', 'pinion; of a worm, its starts')}
          {field('driven', 'Teeth of the driven')}
          {field('ratioLeast', 'Ratio by turns, at least', 'By ratio in Cross-reference reckons it')}
          {field('ratioMost', 'Ratio by turns, at most')}
        </FieldPair>
        {questions.map((question) => (
          <div key={`${question.kind} ${question.question}`}>
            {question.kind === 'count' ? (
              <TextField
                label={`How many ${question.question}`}
                value={keyed.counts[question.question] ?? ''}
                onChange={(text) => onKeyed({ counts: { ...keyed.counts, [question.question]: text } })}
                note={`tells of ${question.types.join(', ')}`}
                inputMode="numeric"
                maxLength={4}
              />
            ) : (
              <SelectField
                label={question.question}
                value={seenOf(keyed, question.question)}
                choices={seen}
                onChange={(picked) => onKeyed({ features: answered(keyed.features, question.question, picked) })}
                note={`tells of ${question.types.join(', ')}`}
              />
            )}
            {picturesFor(types, question).map(({ type, pictures }) => (
              <SignPictures key={type} what={`${question.question}, ${type}`} pictures={pictures} />
            ))}
          </div>
        ))}
        <CautionLine>
          Support a heavy unit before you look beneath it. Scrape no old paint or gasket dry: it can hold lead or asbestos.
        </CautionLine>
      </Form>
    </Section>
  );
}

/** What each type has photographs of, of that which is asked. */
function picturesFor(types: readonly KnownType[], { kind, question }: Question): { type: string; pictures: string[] }[] {
  return types
    .map(({ name, signs }) => ({
      type: name,
      pictures: signs.filter((sign) => sign.kind === kind && questionOf(sign) === question).flatMap(({ pictures }) => pictures),
    }))
    .filter(({ pictures }) => pictures.length > 0);
}

function seenOf({ features }: ReadingKeyed, question: string): Seen {
  const answer = features[question];
  return answer === undefined ? 'not looked' : answer ? 'yes' : 'no';
}

function answered(features: ReadingKeyed['features'], question: string, picked: Seen): ReadingKeyed['features'] {
  const { [question]: _before, ...others } = features;
  return picked === 'not looked' ? others : { ...others, [question]: picked === 'yes' };
}
