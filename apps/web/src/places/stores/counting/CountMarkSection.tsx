import { useQuery } from '@tanstack/react-query';
import { useKeepsBooks } from '../../../api/session.js';
import { Failure } from '../../../ui/Problem.js';
import { Section } from '../../../ui/Section.js';
import { SelectField } from '../../../ui/SelectField.js';
import { useCountMark } from './actions.js';
import { countMarkQuery } from './queries.js';

const marks = { by: null, scarce: true, plenty: false } as const;

/** How often a part is counted: as a scarce one, or with the places in which it lies. */
export function CountMarkSection({ partId }: { readonly partId: string }) {
  const mark = useQuery(countMarkQuery(partId)).data;
  const keeps = useKeepsBooks();
  const change = useCountMark(partId);
  if (mark === undefined) return null;
  const value = mark.scarce === null ? 'by' : mark.scarce ? 'scarce' : 'plenty';
  return (
    <Section title="How often it is counted">
      <p>{mark.words}</p>
      {keeps && (
        <SelectField
          label="Counted as"
          value={value}
          choices={[
            { value: 'by', label: 'scarce while there are few' },
            { value: 'scarce', label: 'scarce, always' },
            { value: 'plenty', label: 'not scarce' },
          ]}
          onChange={(chosen) => change.mutate(marks[chosen])}
        />
      )}
      {change.isError && <Failure error={change.error} word="Not kept" />}
    </Section>
  );
}
