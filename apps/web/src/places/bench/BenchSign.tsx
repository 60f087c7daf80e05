import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { Target } from '../../scan/modes.js';
import { modeRules, ruleOf } from '../../scan/modes.js';
import { useScanning } from '../../scan/scanning.js';
import { ScanEntry } from '../../shell/ScanEntry.js';
import { Button, ButtonLink } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Kbd } from '../../ui/Kbd.js';
import { Plate } from '../../ui/Plate.js';
import { sayInstant } from '../../ui/say-when.js';
import styles from './BenchSign.module.css';
import { type NextOperation, nextOperation } from './next-operation.js';
import { benchJobQuery } from './queries.js';

/** The mode in letters that are read across the shop, and beside it what scans go onto. */
export function BenchSign() {
  const { modes, desk } = useScanning();
  const [choosing, setChoosing] = useState(false);
  const rule = ruleOf(modes.mode);
  return (
    <header className={styles.top}>
      <button
        type="button"
        className={styles.sign}
        data-mode={rule.mode}
        aria-expanded={choosing}
        aria-controls="bench-modes"
        onClick={() => setChoosing(!choosing)}
      >
        <Plate mode={rule.mode} moves={rule.moves} size="wall" />
        <span className="hidden">. Change the mode</span>
      </button>
      <div className={styles.onto}>
        {choosing && (
          <fieldset id="bench-modes" className={styles.modes}>
            <legend className="hidden">What a scan does</legend>
            {modeRules.map((each) => (
              <Button
                key={each.mode}
                look={each.mode === modes.mode ? 'main' : 'usual'}
                onPress={() => {
                  desk.choose(each.mode);
                  setChoosing(false);
                }}
              >
                <span className={styles.modeName}>{each.mode}</span> <Kbd>{each.key}</Kbd>
              </Button>
            ))}
          </fieldset>
        )}
        <Onto />
        <div className={styles.field}>
          <ScanEntry onKeyed={desk.key} />
        </div>
      </div>
    </header>
  );
}

function Onto() {
  const { modes } = useScanning();
  if (modes.mode === 'put away') {
    if (modes.place === null) return <p className={styles.next}>Scan the label of the shelf or tray, then what lies there.</p>;
    return <TargetWords target={modes.place} said="into this place" />;
  }
  if (modes.mode === 'count') {
    if (modes.place === null) return <p className={styles.next}>{ruleOf('count').words}</p>;
    return <TargetWords target={modes.place} said="counting in this place" />;
  }
  if (modes.job === null) return <p className={styles.next}>{ruleOf(modes.mode).words}</p>;
  return (
    <JobWords job={modes.job} since={modes.jobSince} said={modes.mode === 'look' ? 'the job last worked on' : 'onto this job'} />
  );
}

function TargetWords({ target, said }: { readonly target: Target; readonly said: string }) {
  return (
    <>
      <span className={styles.said}>{said}</span>
      <span className={styles.code}>
        <Code code={target.code} />
      </span>
      <span className={styles.what}>{target.name}</span>
      <span className={styles.said}>{target.detail}</span>
    </>
  );
}

function JobWords({ job, since, said }: { readonly job: Target; readonly since: number | null; readonly said: string }) {
  const card = useQuery(benchJobQuery(job.id)).data;
  const from = since === null ? '' : `, since ${sayInstant(new Date(since).toISOString(), new Date())}`;
  const customer = card?.customer === undefined || card.customer === null ? '' : `, for ${card.customer.name}`;
  return (
    <>
      <span className={styles.said}>
        {said}
        {from}
      </span>
      <span className={styles.code}>
        <Code code={job.code} />
      </span>
      <span className={styles.what}>{card === undefined ? job.name : `${card.title}${customer}`}</span>
      {card !== undefined && <NextWords next={nextOperation(card)} />}
      {card !== undefined && (
        <div>
          <ButtonLink look="plain" href={`/bench/strip-down/${card.unit.id}`}>
            Strip-down of its unit
          </ButtonLink>
        </div>
      )}
    </>
  );
}

const shownLines = 6;

/** What this job wants next; the critical first, as the bench has room. */
function NextWords({ next }: { readonly next: NextOperation | null }) {
  if (next === null) return <p className={styles.next}>Every line is in the unit, re-used or waived.</p>;
  const left = [...next.left].sort((a, b) => Number(b.critical) - Number(a.critical));
  const rest = left.length - shownLines;
  return (
    <p className={styles.next}>
      <b>
        Operation {next.number}, {next.name}:
      </b>{' '}
      {next.linesIn} of {next.lines} lines in. Still to fit:{' '}
      {left
        .slice(0, shownLines)
        .map((line) => `${line.left} ${line.name}`)
        .join('; ')}
      {rest > 0 ? `; and ${rest} more ${rest === 1 ? 'line' : 'lines'}` : ''}.
    </p>
  );
}
