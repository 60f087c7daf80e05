import type { StripDown, UsualFateGiven } from '@corewright/contracts/cores';
import { useState } from 'react';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { Form } from '../../../ui/Form.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { sayInstant } from '../../../ui/say-when.js';
import { TextField } from '../../../ui/TextField.js';
import { useFinishStripDown, useGiveUsualFate } from './actions.js';
import { LabelsOfStripDown } from './LabelsOfStripDown.js';
import { PlaceKept } from './PlaceKept.js';
import styles from './StripDown.module.css';

export interface StripDownHeadProps {
  readonly strip: StripDown;
  readonly mayRecord: boolean;
  readonly placeId: string | null;
  readonly onPlace: (placeId: string | null) => void;
}

/** Which unit lies open, who has worked on it, how far it is; and the two acts for all of it. */
export function StripDownHead({ strip, mayRecord, placeId, onPlace }: StripDownHeadProps) {
  const [isGiving, setGiving] = useState(false);
  const finish = useFinishStripDown(strip.id);
  const undecided = strip.components.filter((component) => component.undecided !== '0').length;
  const toLookAt = strip.components.filter((component) => component.toLookAt !== '0').map((component) => component.name);
  return (
    <>
      <header className={styles.top}>
        <div>
          <h1>
            Strip-down: <Code code={strip.unit.code} />
          </h1>
          <p className="read">
            <Go href={`/stores/things/${strip.unit.id}`}>{strip.unitType?.name ?? strip.unit.name}</Go>
            {strip.owner !== null && `, property of ${strip.owner.name}`}
            {strip.job !== null && (
              <>
                , for{' '}
                <Go href={`/jobs/${strip.job.id}`}>
                  <Code code={strip.job.code} /> {strip.job.name}
                </Go>
              </>
            )}
          </p>
          <p className="quiet">{sayWho(strip)}</p>
          <p>{strip.closedAt === null ? sayHowFar(undecided, toLookAt) : 'Finished: its record stays as it is.'}</p>
        </div>
        {mayRecord && (
          <Acts>
            {undecided > 0 && (
              <Button onPress={() => setGiving(!isGiving)} expanded={isGiving}>
                The rest: its usual fate
              </Button>
            )}
            <Button look={undecided === 0 ? 'main' : 'usual'} onPress={() => finish.mutate(null)} isPending={finish.isPending}>
              Finish the strip-down
            </Button>
          </Acts>
        )}
        {strip.closedAt !== null && <ButtonLink href={`/stores/things/${strip.unit.id}`}>To the unit</ButtonLink>}
      </header>
      {finish.error !== null && <Failure error={finish.error} word="Not finished" />}
      {isGiving && mayRecord && <RestForm strip={strip} placeId={placeId} onPlace={onPlace} onDone={() => setGiving(false)} />}
      <LabelsOfStripDown strip={strip} />
    </>
  );
}

function RestForm({ strip, placeId, onPlace, onDone }: Omit<StripDownHeadProps, 'mayRecord'> & { readonly onDone: () => void }) {
  const [ownersWord, setOwnersWord] = useState('');
  const rest = useGiveUsualFate(strip.id);
  const give = () => {
    if (!rest.isPending) rest.mutate({ placeId, ownersWord });
  };
  const remaining = rest.data?.remaining ?? [];
  if (rest.data !== undefined)
    return (
      <div className={styles.said} role="status">
        <p>
          {rest.data.given.length} {rest.data.given.length === 1 ? 'component has' : 'components have'} the usual fate; never
          looked at, so they count in no yield.
        </p>
        {remaining.length > 0 && <p>These remain. {sayRemaining(remaining)}</p>}
        <Acts>
          <Button onPress={onDone}>Go on</Button>
        </Acts>
      </div>
    );
  return (
    <div className={styles.rest}>
      <Form label="The rest: its usual fate" onSubmit={give}>
        <p className="read">
          Whatever has no fate yet gets what its type usually gives it. What must be looked at is left for you.
        </p>
        <PlaceKept placeId={placeId} onPlace={onPlace} />
        {strip.owner !== null && (
          <TextField
            label={`On whose word, of ${strip.owner.name}`}
            value={ownersWord}
            onChange={setOwnersWord}
            note="what is scrapped of a customer’s goods goes on the owner’s word; without it it is kept for them"
            maxLength={200}
          />
        )}
        {rest.error !== null && <Failure error={rest.error} word="Not given" kept="Nothing was changed." />}
        <Acts>
          <Button look="main" type="submit" isPending={rest.isPending}>
            Give the rest its usual fate
          </Button>
          <Button look="plain" onPress={onDone}>
            Leave it
          </Button>
        </Acts>
      </Form>
    </div>
  );
}

/** By what they wait for: "Somebody must look at it: Worm, Cross." */
function sayRemaining(remaining: UsualFateGiven['remaining']): string {
  const reasons = [...new Set(remaining.map(({ why }) => why))];
  const namesFor = (why: string) => remaining.filter((each) => each.why === why).map(({ name }) => name);
  return reasons.map((why) => `${why.charAt(0).toUpperCase()}${why.slice(1)}: ${namesFor(why).join(', ')}.`).join(' ');
}

function sayWho({ begunBy, begunAt, closedBy, closedAt, people }: StripDown): string {
  const now = new Date();
  const others = people.filter((name) => name !== begunBy);
  return [
    `begun ${sayInstant(begunAt, now)} by ${begunBy}`,
    others.length === 0 ? null : `gone on with by ${others.join(', ')}`,
    closedAt === null ? null : `finished ${sayInstant(closedAt, now)} by ${closedBy}`,
  ]
    .filter((words) => words !== null)
    .join('; ');
}

function sayHowFar(undecided: number, toLookAt: readonly string[]): string {
  if (undecided === 0) return 'Every component has its fate.';
  const left = undecided === 1 ? 'One component has' : `${undecided} components have`;
  return `${left} no fate yet.${toLookAt.length === 0 ? '' : ` Must be looked at: ${toLookAt.join(', ')}.`}`;
}
