import { nextScanWords } from '../../scan/modes.js';
import { useScanning } from '../../scan/scanning.js';
import { OtherwiseMeant } from '../../shell/OtherwiseMeant.js';
import { Code } from '../../ui/Code.js';
import { classNames } from '../../ui/class-names.js';
import styles from './AnswerPanel.module.css';

/** What the last scan came to, read from three metres. */
export function AnswerPanel() {
  const { answer, modes, keyedQuantity } = useScanning();
  if (keyedQuantity !== '') {
    return (
      <div className={styles.panel} role="status">
        <p className={styles.word}>{keyedQuantity}</p>
        <h2 className={styles.title}>pieces instead</h2>
        <p className={styles.why}>Enter takes it, or wait a moment. Esc does not.</p>
      </div>
    );
  }
  if (answer === null) {
    return (
      <div className={styles.panel}>
        <p className={styles.word}>Ready</p>
        <h2 className={styles.title}>{modes.mode === 'look' ? 'Scan a label to see what it is on' : nextScanWords(modes)}</h2>
        <p className={styles.why}>Change the mode by a command card, by its key, or by pressing the plate.</p>
      </div>
    );
  }
  return (
    <div
      className={classNames(styles.panel, answer.tone === 'refused' && styles.refused)}
      role={answer.tone === 'refused' ? 'alert' : 'status'}
    >
      <p className={styles.word}>
        <b>{answer.word}</b>
        {answer.code !== null && (
          <span className={styles.code}>
            <Code code={answer.code} />
          </span>
        )}
      </p>
      <h2 className={styles.title}>{answer.title}</h2>
      {answer.detail !== '' && <p className={styles.why}>{answer.detail}</p>}
      <OtherwiseMeant />
      {answer.tone === 'done' && answer.canBeCorrected && (
        <p className={styles.why}>Another quantity? Key its digits now. A mistake? Take back the last act, below.</p>
      )}
    </div>
  );
}
