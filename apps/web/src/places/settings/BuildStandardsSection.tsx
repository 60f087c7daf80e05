import { Make, Source } from '@corewright/contracts/base';
import { type BuildStandardRules, ServingWay } from '@corewright/contracts/build-standards';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { versionShownBy } from '../../api/problem.js';
import { Acts, Button } from '../../ui/Button.js';
import { CheckField } from '../../ui/CheckField.js';
import { Waiting } from '../../ui/Empty.js';
import { Fold } from '../../ui/Fold.js';
import { Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { SelectField } from '../../ui/SelectField.js';
import { gradesQuery } from '../goods-in/queries.js';
import { useEditBuildStandard } from './actions.js';
import { buildStandardsQuery } from './queries.js';
import styles from './SettingsScreen.module.css';

/** What a job that is built so accepts, where a line of it says nothing itself. */
export function BuildStandardsSection() {
  const found = useQuery(buildStandardsQuery);
  return (
    <Section title="Build standards">
      {found.isPending && <Waiting>The build standards are being fetched.</Waiting>}
      {found.error !== null && found.data === undefined && <Failure word="Not shown" error={found.error} />}
      {found.data !== undefined && (
        <>
          <p className="quiet">
            What a job accepts where its line says nothing itself. A change holds for the open jobs at once; what is fitted stays
            fitted.
          </p>
          {found.data.standards.map((standard) => (
            <Fold key={standard.id} summary={summaryOf(standard)}>
              <StandardForm standard={standard} />
            </Fold>
          ))}
        </>
      )}
    </Section>
  );
}

function summaryOf({ name, ways, makes, sources, gradeLeast }: BuildStandardRules): string {
  const others = ways.length === 0 ? 'no other part' : `other parts that are ${ways.join(', ')}`;
  const grade = gradeLeast === '' ? '' : `; grade ${gradeLeast} or better`;
  return `${name}: ${others}; make ${anyOf(makes)}; source ${anyOf(sources)}${grade}`;
}

function anyOf(words: readonly string[]): string {
  return words.length === 0 ? 'any' : words.join(' or ');
}

function StandardForm({ standard }: { readonly standard: BuildStandardRules }) {
  // null until something is ticked: the form then follows what others keep; after that it stays on the version that was seen
  const [keyed, setKeyed] = useState<BuildStandardRules | null>(null);
  const grades = useQuery(gradesQuery);
  const edit = useEditBuildStandard();
  const rules = keyed ?? standard;
  const put = (more: Partial<BuildStandardRules>) => setKeyed({ ...rules, ...more });
  const keep = () =>
    edit.mutate(rules, {
      onSuccess: () => setKeyed(null),
      onError: (error) => setKeyed((now) => ({ ...(now ?? rules), version: versionShownBy(error, rules.version) })),
    });
  const letters = (grades.data?.grades ?? [])
    .filter(({ scale, letter, retired }) => scale === 'part' && (!retired || letter === standard.gradeLeast))
    .map((grade) => grade.letter);
  return (
    <Form label={`What a job accepts that is built ${standard.name}`} onSubmit={keep}>
      <Ticks
        title="Another part may go in place of the one asked for where it is"
        words={ServingWay.options}
        ticked={rules.ways}
        onChange={(ticked) => put({ ways: ticked })}
      />
      <Ticks
        title="Makes; none ticked means any"
        words={Make.options}
        ticked={rules.makes}
        onChange={(ticked) => put({ makes: ticked })}
      />
      <Ticks
        title="Sources; none ticked means any"
        words={Source.options}
        ticked={rules.sources}
        onChange={(ticked) => put({ sources: ticked })}
      />
      <SelectField
        label="Least grade"
        value={rules.gradeLeast}
        choices={[{ value: '', label: 'any' }, ...letters.map((letter) => ({ value: letter, label: letter }))]}
        onChange={(letter) => put({ gradeLeast: letter })}
      />
      {edit.error !== null && <Failure word="Not kept" error={edit.error} kept="What you ticked is kept." />}
      <Acts>
        <Button type="submit" isPending={edit.isPending}>
          Keep it
        </Button>
      </Acts>
    </Form>
  );
}

interface TicksProps<Word extends string> {
  readonly title: string;
  readonly words: readonly Word[];
  readonly ticked: readonly Word[];
  readonly onChange: (ticked: Word[]) => void;
}

function Ticks<Word extends string>({ title, words, ticked, onChange }: TicksProps<Word>) {
  return (
    <fieldset className={styles.ticks}>
      <legend>{title}</legend>
      {words.map((word) => (
        <CheckField
          key={word}
          isSelected={ticked.includes(word)}
          onChange={(isTicked) => onChange(words.filter((each) => (each === word ? isTicked : ticked.includes(each))))}
        >
          {word}
        </CheckField>
      ))}
    </fieldset>
  );
}
