import type { Advice } from '@corewright/contracts/coverage';
import type { JobCard } from '@corewright/contracts/jobs';
import { useState } from 'react';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { Chain } from '../../ui/Chain.js';
import { PromiseDate } from '../../ui/PromiseDate.js';
import { sayDay, sayDayAloud, sayDayShort, sayInstantFully } from '../../ui/say-when.js';
import { GiveDateForm } from './GiveDateForm.js';
import styles from './PromisePanel.module.css';

/** When it can be promised, on what terms, and what decides it. */
export function PromisePanel({ job }: { readonly job: JobCard }) {
  const [isGiving, setGiving] = useState(false);
  const advice = job.coverage.advice;
  return (
    <section className={styles.promise} aria-labelledby="promise">
      <div className={styles.say}>
        <h2 id="promise">
          Promise <span className="small quiet">reckoned {sayDay(advice.reckonedOn)}</span>
        </h2>
        <AdviceSaid advice={advice} />
        <GivenDate job={job} />
        {isGiving ? (
          <GiveDateForm job={job} onClose={() => setGiving(false)} />
        ) : (
          <div className={styles.acts}>
            <Acts>
              <Button look="main" onPress={() => setGiving(true)}>
                {job.dateGiven === null ? 'Give a date' : 'Move the date given'}
              </Button>
              <ButtonLink href={`/jobs/what-if?job=${job.id}`}>What if</ButtonLink>
              <Button onPress={() => window.print()}>Print the card</Button>
            </Acts>
          </div>
        )}
      </div>
      <div className={styles.how}>
        <h3>What decides the date</h3>
        {advice.chain.length === 0 ? (
          <p className="quiet">
            Nothing yet: {advice.kind === 'none' ? 'what is lacking comes first.' : 'no work is left and nothing is waited for.'}
          </p>
        ) : (
          <Chain
            links={advice.chain.map((link, index) => ({
              id: `${index}-${link.date}`,
              isAssumed: link.assumed,
              words: (
                <>
                  {link.sentence} <span className="quiet">{sayDayShort(link.date)}</span>
                </>
              ),
            }))}
          />
        )}
        <Conditions conditions={advice.conditions} />
      </div>
    </section>
  );
}

function AdviceSaid({ advice }: { readonly advice: Advice }) {
  switch (advice.kind) {
    case 'done':
      return <p className={styles.sentence}>{advice.sentence}</p>;
    case 'firm':
      return (
        <>
          {advice.date !== null && <PromiseDate kind="firm" date={sayDay(advice.date)} spoken={sayDayAloud(advice.date)} />}
          <p className={styles.sentence}>{advice.sentence}</p>
        </>
      );
    case 'if':
      return (
        <>
          {advice.date !== null && (
            <PromiseDate
              kind="if"
              date={sayDay(advice.date)}
              spoken={sayDayAloud(advice.date)}
              condition={advice.conditions.length === 1 ? 'if this holds' : 'if all this holds'}
            />
          )}
          <p className={styles.sentence}>{advice.sentence}</p>
        </>
      );
    case 'none':
      return <NoDate advice={advice} />;
  }
}

function NoDate({ advice }: { readonly advice: Advice }) {
  return (
    <>
      <PromiseDate kind="none" />
      <p className={styles.nodate}>{advice.sentence}</p>
      {advice.toFind.length > 0 && (
        <>
          <h3 className={styles.sub}>To find</h3>
          <ul className={styles.find}>
            {advice.toFind.map((want) => (
              <li key={want.lineId}>
                {want.quantity} × <b>{want.name}</b>, <span className="pn">{want.number}</span>, line {want.lineNo}
              </li>
            ))}
          </ul>
        </>
      )}
      {advice.ifFound !== null && (
        <div className={styles.ifrow}>
          <PromiseDate
            kind="if"
            date={sayDay(advice.ifFound.date)}
            spoken={sayDayAloud(advice.ifFound.date)}
            condition={`if found by ${sayDayShort(advice.ifFound.by)}`}
          />
        </div>
      )}
    </>
  );
}

function Conditions({ conditions }: { readonly conditions: readonly string[] }) {
  if (conditions.length === 0) return null;
  return (
    <>
      <h3 className={styles.sub}>It rests on</h3>
      <ul className={styles.conditions} aria-label="It rests on">
        {conditions.map((condition) => (
          <li key={condition}>{condition}</li>
        ))}
      </ul>
    </>
  );
}

function GivenDate({ job }: { readonly job: JobCard }) {
  const latest = job.dates.toSorted((one, other) => other.at.localeCompare(one.at))[0];
  if (latest === undefined) return <p className={styles.given}>No date has been given yet.</p>;
  return (
    <p className={styles.given}>
      <span className={styles.day}>{sayDay(latest.given)}</span>
      <span>
        is what the customer was told, on {sayInstantFully(latest.at)} by {latest.by}
        {latest.againstAdvice && (
          <>
            , <b>against the advice of that day</b>: “{latest.reason}”
          </>
        )}
        .
      </span>
    </p>
  );
}
