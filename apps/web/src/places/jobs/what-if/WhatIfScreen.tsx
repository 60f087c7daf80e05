import { readSuppositions, type Supposition, type WhatIf, writeSuppositions } from '@corewright/contracts/what-if';
import { useQuery } from '@tanstack/react-query';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import type { ComboOption } from '../../../ui/combo-options.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Failure } from '../../../ui/Problem.js';
import { PageHead, Section } from '../../../ui/Section.js';
import { jobQuery } from '../queries.js';
import { JobBothWays } from './JobBothWays.js';
import { KINDS } from './kinds.js';
import { jobOption, whatIfQuery } from './queries.js';
import { SupposeForm } from './SupposeForm.js';
import styles from './WhatIf.module.css';

export interface WhatIfScreenProps {
  /** What is supposed, as the address has it; empty while nothing is. */
  readonly suppose: string;
  /** The job with which the person came; empty where there is none. */
  readonly jobId: string;
  readonly onAsk: (suppose: string) => void;
}

/** Something is supposed, and every open job is shown as it is and as it would be. Nothing is changed. */
export function WhatIfScreen({ suppose, jobId, onAsk }: WhatIfScreenProps) {
  const answer = useQuery({ ...whatIfQuery(suppose), enabled: suppose !== '' });
  const suppositions = readSuppositions(suppose) ?? [];
  const ask = (next: readonly Supposition[]) => onAsk(writeSuppositions(next));
  return (
    <>
      <PageHead
        title="What if"
        note="Nothing is changed in the books. The question stands in the address, so it can be sent to somebody."
        acts={
          <Acts>
            <ButtonLink href="/jobs/by-part">Parts in conflict</ButtonLink>
            <ButtonLink href="/jobs">All jobs</ButtonLink>
          </Acts>
        }
      />
      <div className={styles.ask}>
        <ComeWith jobId={jobId}>
          {(job) => (
            <SupposeForm
              key={job?.id ?? ''}
              job={job}
              isFurther={suppositions.length > 0}
              onSuppose={(one) => ask([...suppositions, one])}
            />
          )}
        </ComeWith>
        {suppositions.length > 0 && <Supposed suppositions={suppositions} answer={answer.data} onAsk={ask} />}
      </div>
      {suppose !== '' && answer.isPending && <Waiting>Sharing everything out both ways …</Waiting>}
      {answer.isError && <Failure error={answer.error} word="Not reckoned" kept="The question is kept." />}
      {answer.data !== undefined && <Answer answer={answer.data} />}
      {suppose === '' && (
        <Empty title="Nothing is supposed yet">
          Choose above what might happen or be decided. Every open job is then shown twice: as it is, and as it would be, with who
          wins and who loses by it.
        </Empty>
      )}
    </>
  );
}

/** The job with which the person came, once it is known what it is called. */
function ComeWith({
  jobId,
  children,
}: {
  readonly jobId: string;
  readonly children: (job: ComboOption | null) => React.ReactNode;
}) {
  const job = useQuery({ ...jobQuery(jobId), enabled: jobId !== '' });
  return <>{children(job.data === undefined ? null : jobOption(job.data))}</>;
}

interface SupposedProps {
  readonly suppositions: readonly Supposition[];
  readonly answer: WhatIf | undefined;
  readonly onAsk: (suppositions: readonly Supposition[]) => void;
}

function Supposed({ suppositions, answer, onAsk }: SupposedProps) {
  return (
    <div className={styles.frame}>
      <h2>Supposed</h2>
      <ol className={styles.supposedList} aria-label="Supposed">
        {suppositions.map((supposition, index) => {
          const words = answer?.supposed[index]?.words ?? kindWords(supposition);
          return (
            <li key={writeSuppositions([supposition])}>
              <span>{words}.</span>
              <Button
                look="plain"
                label={`Take away: ${words}`}
                onPress={() => onAsk(suppositions.filter((_, other) => other !== index))}
              >
                Take away
              </Button>
            </li>
          );
        })}
      </ol>
    </div>
  );
}

/** What kind of thing it is, while nobody has said of what. */
function kindWords({ kind }: Supposition): string {
  const words = KINDS.find(({ value }) => value === kind)?.label ?? 'an order comes on another day, or not at all';
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function Answer({ answer }: { readonly answer: WhatIf }) {
  if (answer.jobs.length === 0) return <Empty title="Nothing changes">{answer.words}</Empty>;
  return (
    <Section title="Who wins, who loses" aside="jobs in the order in which they would be served">
      <p className="read" role="status">
        {answer.words}
      </p>
      <div className={styles.jobs}>
        {answer.jobs.map((job) => (
          <JobBothWays key={job.job.id} job={job} />
        ))}
      </div>
    </Section>
  );
}
