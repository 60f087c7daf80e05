import type { LabelRun } from '@corewright/contracts/labels';
import { ButtonLink } from '../../ui/Button.js';
import { Failure } from '../../ui/Problem.js';
import styles from './RunOutcome.module.css';

export interface RunOutcomeProps {
  readonly run: LabelRun | undefined;
  readonly error: Error | null;
}

/** What came of a run: how many labels and pages, with the document to print. */
export function RunOutcome({ run, error }: RunOutcomeProps) {
  if (error !== null) return <Failure error={error} word="Not printed" kept="No label was counted as printed." />;
  if (run === undefined) return null;
  return (
    <div className={styles.outcome} role="status">
      <p>
        <b>
          {run.labelCount} {run.labelCount === 1 ? 'label' : 'labels'} on {run.pageCount} {run.pageCount === 1 ? 'page' : 'pages'}
        </b>
        , {run.stock}. Print it at true size: no scaling, no margins added.
      </p>
      <ButtonLink look="main" href={run.pdfPath} opensDocument>
        Open the labels
      </ButtonLink>
    </div>
  );
}
