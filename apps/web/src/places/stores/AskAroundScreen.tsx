import type { UnnamedThing } from '@corewright/contracts/ask-around';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useWorksWithThings } from '../../api/session.js';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead, Section } from '../../ui/Section.js';
import { sayInstant } from '../../ui/say-when.js';
import { AnswerForm, AnswersTold } from './Answers.js';
import styles from './AskAround.module.css';
import { askAroundQuery } from './ask-around-queries.js';

/** What nobody here could name, with pictures, to ask around with: on the screen or on paper, each answered by its code. */
export function AskAroundScreen() {
  const list = useQuery(askAroundQuery);
  return (
    <>
      <PageHead
        title="Who knows what this is?"
        note="What is here and nobody could name. Whoever knows one names its code."
        acts={
          <Acts>
            <Button onPress={() => print()}>Print it</Button>
            <ButtonLink href="/stores">All of Stores</ButtonLink>
          </Acts>
        }
      />
      {list.isPending && <Waiting>Looking for it …</Waiting>}
      {list.isError && <Failure error={list.error} word="Not found out" />}
      {list.data !== undefined && (
        <Section title="The oldest first" aside={asideOf(list.data.things.length, list.data.count)}>
          {list.data.things.length === 0 ? (
            <Empty title="None">Whatever is here, somebody has said what it is.</Empty>
          ) : (
            // all of it at once, with its pictures: what is not drawn yet would be white on paper
            <ol className={styles.list} aria-label="Nobody could name">
              {list.data.things.map((thing) => (
                <li key={thing.id}>
                  <Unnamed thing={thing} />
                </li>
              ))}
            </ol>
          )}
        </Section>
      )}
    </>
  );
}

function asideOf(shown: number, count: number): string {
  if (shown < count) return `${shown} of ${count}`;
  return count === 1 ? '1 thing' : `${count} things`;
}

/** As many pictures as stand beside one another. */
const picturesMax = 3;

function Unnamed({ thing }: { readonly thing: UnnamedThing }) {
  const [answers, setAnswers] = useState(false);
  const mayAnswer = useWorksWithThings();
  return (
    <article className={styles.thing} aria-label={thing.words || thing.code}>
      <div className={styles.pictures}>
        {thing.pictures.length === 0 && <span className={styles.noPicture}>no photograph</span>}
        {thing.pictures.slice(0, picturesMax).map((picture) => (
          <img
            key={picture}
            className={styles.picture}
            src={`/api/pictures/${picture}/small`}
            alt={`${thing.words}, photographed`}
          />
        ))}
      </div>
      <div className={styles.facts}>
        <p>
          <Go href={`/stores/things/${thing.id}`}>
            <Code code={thing.code} size="row" />
          </Go>{' '}
          <b>{thing.words || 'Nothing is written of it'}</b>
        </p>
        <p>{markedAs(thing)}</p>
        <p className="quiet">{whereFrom(thing)}</p>
        {thing.owner !== null && <p className={styles.owner}>property of {thing.owner}</p>}
        {thing.answers.length > 0 && <AnswersTold answers={thing.answers} />}
        {answers && <AnswerForm thingId={thing.id} onClose={() => setAnswers(false)} />}
        {mayAnswer && !answers && (
          <Acts>
            <Button onPress={() => setAnswers(true)} label={`Somebody knows: ${thing.code}`}>
              Somebody knows
            </Button>
            {thing.kind === 'unit' && <ButtonLink href={`/stores/things/${thing.id}/identify`}>What is it?</ButtonLink>}
          </Acts>
        )}
      </div>
      <p className={styles.line}>It is:</p>
    </article>
  );
}

function markedAs({ kind, marks, pieces }: UnnamedThing): string {
  if (kind === 'unit') return marks === '' ? 'a unit, no marks read' : `a unit, marks ${marks}`;
  if (kind === 'lot') return marks === '' ? 'parts, no marks read' : `parts, marks ${marks}`;
  return pieces === null ? 'a box, not counted' : `a box, about ${pieces} in it`;
}

function whereFrom({ places, since, load, seller }: UnnamedThing): string {
  const came = [load?.name ?? '', seller === null ? '' : `from ${seller}`].filter((words) => words !== '').join(' ');
  return [places, `since ${sayInstant(since, new Date())}`, came].filter((words) => words !== '').join(', ');
}
