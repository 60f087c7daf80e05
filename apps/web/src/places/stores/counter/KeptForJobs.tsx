import type { KeptForJobs } from '@corewright/contracts/selling';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useKeepsBooks } from '../../../api/session.js';
import { Button } from '../../../ui/Button.js';
import { Section } from '../../../ui/Section.js';
import { sayInstant } from '../../../ui/say-when.js';
import { WhyForm } from '../../../ui/WhyForm.js';
import { useKeeping, useLiftingKept } from './actions.js';
import { keptForJobsQuery } from './queries.js';

/** On the page of a part or of a thing: whether it is kept for own jobs, and keeping it so. */
export function KeptForJobsSection({
  of,
  isSold,
}: {
  readonly of: { partId: string } | { thingId: string };
  readonly isSold: boolean;
}) {
  const kept = useQuery(keptForJobsQuery(of)).data?.kept;
  const mayKeep = useKeepsBooks();
  const [isKeeping, setKeeping] = useState(false);
  const keeping = useKeeping(() => setKeeping(false));
  const own = 'partId' in of ? 'part' : 'thing';
  if (kept === undefined || (kept.length === 0 && !(mayKeep && isSold))) return null;
  return (
    <Section title="Kept for own jobs">
      {kept.length === 0 && <p className="quiet">No: whoever stands at the counter may sell what no job counts on.</p>}
      {kept.map((each) => (
        <div key={each.id}>
          <p className="read">
            <b>{each.on === 'part' ? 'All of this part' : 'This one'}</b>, by {each.by}, {sayInstant(each.at, new Date())}:{' '}
            {each.reason}
          </p>
          {mayKeep && <LiftKept kept={each} />}
        </div>
      ))}
      {mayKeep && isSold && !isKeeping && kept.every(({ on }) => on !== own) && (
        <Button onPress={() => setKeeping(true)}>Keep it for own jobs</Button>
      )}
      {isKeeping && (
        <WhyForm
          label="Keep it for own jobs"
          question="Why it is kept"
          note="it is not sold before somebody who keeps the books lifts this, by name"
          act="Keep it for own jobs"
          failed="Not kept"
          sending={keeping}
          onWhy={(reason) => keeping.mutate({ ...of, reason })}
          onClose={() => setKeeping(false)}
        />
      )}
    </Section>
  );
}

/** Lifts what somebody keeps. */
export function LiftKept({ kept }: { readonly kept: KeptForJobs }) {
  const [isOpen, setOpen] = useState(false);
  const lifting = useLiftingKept(kept.id, () => setOpen(false));
  if (!isOpen) return <Button onPress={() => setOpen(true)}>Lift it</Button>;
  return (
    <WhyForm
      label="Lift it"
      question="Why it may be sold"
      note="it stays on the record with your name"
      act="Lift it"
      failed="Not lifted"
      sending={lifting}
      onWhy={(why) => lifting.mutate(why)}
      onClose={() => setOpen(false)}
    />
  );
}
