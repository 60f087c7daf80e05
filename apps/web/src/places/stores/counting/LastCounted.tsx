import { useQuery } from '@tanstack/react-query';
import { Go } from '../../../ui/Go.js';
import { Section } from '../../../ui/Section.js';
import { sayInstant } from '../../../ui/say-when.js';
import { Timeline } from '../../../ui/Timeline.js';
import { lastCountedQuery } from './queries.js';

/** When a thing or a place was counted last, by whom, and whether the books were right; nothing where nobody has counted it. */
export function LastCounted({ of, id }: { readonly of: 'things' | 'places'; readonly id: string }) {
  const counted = useQuery(lastCountedQuery(of, id)).data?.counted ?? [];
  const [last] = counted;
  if (last === undefined) return null;
  return (
    <Section
      title="Counted"
      aside={`last ${sayInstant(last.at, new Date())} by ${last.by}, ${last.agreed ? 'agreed' : 'differed'}`}
    >
      <Timeline
        label="Counted, newest first"
        entries={counted.map(({ countId, number, at, by, agreed, words }) => ({
          id: `${countId} ${at} ${words}`,
          when: sayInstant(at, new Date()),
          words: (
            <>
              <b>{agreed ? 'agreed' : 'differed'}</b> {words}{' '}
              <span className="quiet">
                {by}, <Go href={`/stores/counting/${countId}`}>count {number}</Go>
              </span>
            </>
          ),
        }))}
      />
    </Section>
  );
}
