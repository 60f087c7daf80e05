import type { CountPage } from '@corewright/contracts/counting';
import { useState } from 'react';
import { queue } from '../../../api/queue.js';
import { useKeepsBooks, useWorksWithThings } from '../../../api/session.js';
import { useQueue } from '../../../api/use-queue.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Go } from '../../../ui/Go.js';
import { Failure, Problem } from '../../../ui/Problem.js';
import { Section } from '../../../ui/Section.js';
import { sayInstant } from '../../../ui/say-when.js';
import { useOneForm } from '../../../ui/use-one-form.js';
import { WhyForm } from '../../../ui/WhyForm.js';
import { Photographs } from '../../photographs/Photographs.js';
import { TakePhotographs } from '../../photographs/TakePhotographs.js';
import { useSettleFinding } from './actions.js';
import styles from './Counting.module.css';
import { FindingForm } from './FindingForm.js';
import { findingsKept, type QueuedFinding } from './finding-queue.js';

/** What was found that bears no label of its own, and what whoever counted doubts. */
export function Findings({ count }: { readonly count: CountPage }) {
  const { which, open, close } = useOneForm<'finding'>();
  const { waiting, refused } = findingsKept(useQueue(), count.id);
  const mayCount = useWorksWithThings() && count.endedAt === null && count.places.length > 0;
  const onServer = new Set(count.findings.map(({ id }) => id));
  const kept = waiting.filter(({ body }) => !onServer.has(body.id));
  const all = count.findings.length + kept.length;
  if (!mayCount && all + refused.length === 0) return null;
  return (
    <Section title="Without a label, or in doubt" aside={all === 0 ? 'none' : `${all}`}>
      {count.findings.map((finding) => (
        <Finding key={finding.id} finding={finding} isEnded={count.endedAt !== null} />
      ))}
      {kept.map((each) => (
        <KeptHere key={each.body.id} kept={each} />
      ))}
      {refused.map((each) => (
        <Refused key={each.command.key} refused={each} />
      ))}
      {mayCount && which === null && <Button onPress={() => open('finding')}>Write something down</Button>}
      {which !== null && <FindingForm count={count} onClose={close} />}
    </Section>
  );
}

function KeptHere({ kept: { body } }: { readonly kept: QueuedFinding }) {
  return (
    <div className={styles.row}>
      <div>
        <b>{body.words}</b>
        {body.quantity !== null && `, ${body.quantity}`}
        <Photographs pictures={[]} subject={body.words} subjectIds={[body.id]} />
      </div>
      <div>kept on this device</div>
    </div>
  );
}

function Refused({ refused: { body, command } }: { readonly refused: QueuedFinding }) {
  const { state, key } = command;
  if (state.kind !== 'needs-you') return null;
  return (
    <Problem
      word="Not kept"
      reason={`${body.words}: ${state.reason.title}`}
      next={state.reason.detail}
      choices={
        <>
          <Button onPress={() => void queue.tryAgain(key)}>Send it again</Button>
          <Button look="plain" onPress={() => void queue.dismiss(key)}>
            Throw it away
          </Button>
        </>
      }
    />
  );
}

interface FindingProps {
  readonly finding: CountPage['findings'][number];
  readonly isEnded: boolean;
}

function Finding({ finding, isEnded }: FindingProps) {
  const [isLeaving, setLeaving] = useState(false);
  const settle = useSettleFinding(finding.id, () => setLeaving(false));
  const isOpen = !isEnded && finding.ended === null;
  const mayDecide = useKeepsBooks() && isOpen;
  const mayPhotograph = useWorksWithThings() && isOpen;
  const { thing, ended, words, quantity } = finding;
  const isDoubt = finding.kind === 'in doubt';
  const leave = isDoubt ? 'Say what came of it' : 'Leave it';
  return (
    <div className={styles.row}>
      <div>
        <b>{words}</b>
        {quantity !== null && `, ${quantity}`}
        <div className="quiet">
          {finding.place}; {finding.by}, {sayInstant(finding.at, new Date())}
        </div>
        <Photographs pictures={finding.pictures} subject={words} subjectIds={[finding.id]} />
        {mayPhotograph && <TakePhotographs subjectId={finding.id} taken={finding.pictures.length} />}
      </div>
      <div>
        {finding.kind}
        {thing !== null && (
          <>
            : <Go href={`/stores/things/${thing.id}`}>{thing.name}</Go>
          </>
        )}
        {ended !== null && <div className="quiet">{ended.words}</div>}
      </div>
      <div>
        {ended?.thing !== null && ended?.thing !== undefined && (
          <ButtonLink href={`/labels/${ended.thing.code}`}>Label for it</ButtonLink>
        )}
        {mayDecide && !isLeaving && (
          <Acts>
            {!isDoubt && (
              <Button
                isPending={settle.isPending}
                label={`Book it as unsorted: ${words}`}
                onPress={() => settle.mutate({ how: 'made unsorted' })}
              >
                Book it as unsorted
              </Button>
            )}
            <Button look={isDoubt ? 'usual' : 'plain'} label={`${leave}: ${words}`} onPress={() => setLeaving(true)}>
              {leave}
            </Button>
          </Acts>
        )}
      </div>
      {(isLeaving || settle.isError) && (
        <div className={styles.form}>
          {isLeaving ? (
            <WhyForm
              label={`${leave}: ${words}`}
              question={isDoubt ? 'What came of it' : 'Why it is left as it is'}
              note="it stays on the record of the count"
              act={isDoubt ? 'Put it on the record' : 'Leave it as it is'}
              failed="Not kept"
              sending={settle}
              onWhy={(why) => settle.mutate({ how: 'left', why })}
              onClose={() => setLeaving(false)}
            />
          ) : (
            <Failure error={settle.error} word="Not booked" />
          )}
        </div>
      )}
    </div>
  );
}
