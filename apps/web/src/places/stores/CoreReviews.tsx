import { useQuery } from '@tanstack/react-query';
import { Section } from '../../ui/Section.js';
import { sayDay, sayInstant } from '../../ui/say-when.js';
import { Timeline } from '../../ui/Timeline.js';
import { coreReviewsQuery } from './core-queries.js';

/** Every time that a core was looked through, and what was decided; nothing where nobody has. */
export function CoreReviews({ unitId }: { readonly unitId: string }) {
  const reviews = useQuery(coreReviewsQuery(unitId)).data?.reviews ?? [];
  if (reviews.length === 0) return null;
  return (
    <Section title="Looked through" aside="newest first">
      <Timeline
        label="Looked through, newest first"
        entries={reviews.map(({ id, at, by, decided, note, nextOn }) => ({
          id,
          when: sayInstant(at, new Date()),
          words: (
            <>
              <b>{decided}</b>: {note}{' '}
              <span className="quiet">
                {by}; again on {sayDay(nextOn)}
              </span>
            </>
          ),
        }))}
      />
    </Section>
  );
}
