import { useState } from 'react';
import { useNetwork, useQueue } from '../api/use-queue.js';
import { pictures } from '../places/photographs/pictures.js';
import type { Answer } from '../scan/answers.js';
import { modeRules, nextScanWords, ruleOf } from '../scan/modes.js';
import { useScanning } from '../scan/scanning.js';
import { Button } from '../ui/Button.js';
import { Code } from '../ui/Code.js';
import { classNames } from '../ui/class-names.js';
import { Go } from '../ui/Go.js';
import { Kbd } from '../ui/Kbd.js';
import { Plate } from '../ui/Plate.js';
import { sayInstant } from '../ui/say-when.js';
import { OtherwiseMeant } from './OtherwiseMeant.js';
import { ScanEntry } from './ScanEntry.js';
import styles from './ScanStrip.module.css';

/** On every screen: what a scan does, the field, what the last scan came to, what waits for the network. */
export function ScanStrip() {
  const { modes, answer, keyedQuantity, desk } = useScanning();
  const [choosing, setChoosing] = useState(false);
  const rule = ruleOf(modes.mode);
  const isAtPlace = modes.mode === 'put away' || modes.mode === 'count';
  const onto = isAtPlace ? modes.place : modes.mode === 'look' ? null : modes.job;

  return (
    <section className={styles.scan} aria-label="Scan">
      <button
        type="button"
        className={styles.plate}
        aria-expanded={choosing}
        aria-controls="scan-modes"
        onClick={() => setChoosing(!choosing)}
      >
        <Plate mode={rule.mode} moves={rule.moves} />
        <span className="hidden">. Change the mode</span>
      </button>
      <ScanEntry onKeyed={desk.key} />
      <div className={styles.answer} role="status">
        {keyedQuantity !== '' && (
          <p>
            <b>{keyedQuantity}</b> {modes.mode === 'count' ? 'there?' : 'pieces instead?'}{' '}
            <span className="quiet">Enter takes it, Esc does not.</span>
          </p>
        )}
        {keyedQuantity === '' && (answer === null ? <p>{nextScanWords(modes)}</p> : <AnswerWords answer={answer} />)}
        {onto !== null && (
          <p className="small quiet">
            {modes.mode === 'count' ? 'in' : 'onto'} <Code code={onto.code} /> {onto.name}
          </p>
        )}
        {modes.mode === 'count' && onto !== null && <Button onPress={() => void desk.allScanned()}>All is scanned here</Button>}
        <OtherwiseMeant />
        {modes.mode === 'put away' && answer?.canBeTakenBack === true && (
          <Button look="plain" onPress={() => void desk.takeBackLast()}>
            Put it back
          </Button>
        )}
      </div>
      <NetworkWords />
      {choosing && (
        <fieldset id="scan-modes" className={styles.modes}>
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
    </section>
  );
}

/** What a scan came to, in a sentence. */
export function AnswerWords({ answer }: { readonly answer: Answer }) {
  return (
    <p className={classNames(answer.tone === 'refused' && styles.refused)}>
      <b className={styles.word}>{answer.word}</b> {answer.code !== null && <Code code={answer.code} size="row" />} {answer.title}
      {answer.detail !== '' && <span className={classNames('small', styles.detail)}> {answer.detail}</span>}
      {answer.to !== undefined && (
        <Go href={answer.to.href} className={styles.to}>
          {answer.to.words}
        </Go>
      )}
    </p>
  );
}

/** Whether the server answers, how many commands wait, and how many need a person. */
export function NetworkWords() {
  const network = useNetwork();
  const { waiting, needsYou, kept, known } = useQueue();
  const waitingPictures = useQueue(pictures).waiting.length;
  const since = sayInstant(new Date(network.since).toISOString(), new Date());
  return (
    <div className={styles.waits}>
      <p role="status">
        <b>{network.up ? 'Network up' : 'No network'}</b>
        {network.up ? '' : ` since ${since}`}
        {waiting.length > 0 && <b>, {countOf(waiting.length, 'waits', 'wait')}</b>}
        {waitingPictures > 0 && <b>, {countOf(waitingPictures, 'photograph waits', 'photographs wait')}</b>}
        {waiting.length === 0 && waitingPictures === 0 && known && <span className="quiet">, nothing waits</span>}
      </p>
      {needsYou.length > 0 && (
        <p>
          <Go href="/bench" className={styles.needs}>
            {countOf(needsYou.length, 'needs you', 'need you')}
          </Go>
        </p>
      )}
      {!kept && <p className="small">This browser keeps nothing: do not close the page while something waits.</p>}
    </div>
  );
}

function countOf(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}
