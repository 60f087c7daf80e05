import { makeCode } from '@corewright/codes/label-code';
import { type CommandCard, commandCards } from '@corewright/contracts/scanning';
import { useState } from 'react';
import type { QueuedCommand } from '../../api/queue-machine.js';
import { codeOf, outcomeOf, refusalOf } from '../../scan/acts.js';
import { useChoiceTaker } from '../../scan/scanning.js';
import { Code } from '../../ui/Code.js';
import { classNames } from '../../ui/class-names.js';
import styles from './AnswerPanel.module.css';
import { type BenchChoice, choicesOf } from './choices.js';
import { DecisionForm } from './DecisionForm.js';
import { useDecision } from './use-decision.js';

/** A stopped scan: the reason, and the choices by press, by key and by command card. Or one scans on. */
export function RefusalPanel({ command }: { readonly command: QueuedCommand }) {
  const [picked, setPicked] = useState<BenchChoice | null>(null);
  const outcome = outcomeOf(command);
  const refusal = refusalOf(command);
  const choices = choicesOf(command, refusal);
  const decision = useDecision(command);
  const code = refusal?.thing?.code ?? codeOf(command);

  const choose = (choice: BenchChoice) => {
    setPicked(choice);
    if (choice.needs === 'nothing') void decision.make(choice);
  };
  useChoiceTaker((number) => {
    const choice = number > choiceCards.length ? undefined : choices[number - 1];
    if (choice === undefined) return false;
    choose(choice);
    return true;
  });

  return (
    <div className={classNames(styles.panel, styles.refused)} role="alert">
      <p className={styles.word}>
        <b>{outcome.word}</b>
        {code !== null && (
          <span className={styles.code}>
            <Code code={code} />
          </span>
        )}
      </p>
      <h2 className={styles.title}>
        {refusal?.thing === null || refusal?.thing === undefined ? outcome.title : `${refusal.thing.name}: ${outcome.title}`}
      </h2>
      <p className={styles.why}>{outcome.detail}</p>
      {decision.trouble !== null && <p className={styles.why}>{decision.trouble}</p>}
      <div className={styles.choices}>
        {choices.map((choice, index) => (
          <ChoiceButton
            key={choice.kind}
            choice={choice}
            number={index + 1}
            isFirst={index === 0}
            onChoose={() => choose(choice)}
          />
        ))}
      </div>
      {picked !== null && picked.needs !== 'nothing' && refusal !== null && (
        <div className={styles.form}>
          <DecisionForm
            about={command.key}
            choice={picked}
            refusal={refusal}
            onDecide={(said) => void decision.make(picked, said)}
          />
        </div>
      )}
      <p className={styles.go}>
        <b>Or scan on.</b> This then waits at the side until someone decides.
      </p>
    </div>
  );
}

/** Three choices can be made by a printed card. */
const choiceCards: readonly CommandCard[] = ['choice 1', 'choice 2', 'choice 3'];

interface ChoiceButtonProps {
  readonly choice: BenchChoice;
  readonly number: number;
  readonly isFirst: boolean;
  readonly onChoose: () => void;
}

function ChoiceButton({ choice, number, isFirst, onChoose }: ChoiceButtonProps) {
  const card = choiceCards[number - 1];
  return (
    <button
      type="button"
      className={classNames(styles.choice, isFirst && styles.first, choice.grave && styles.grave)}
      onClick={onChoose}
    >
      <span className={styles.number}>{number}</span>
      <span>
        <strong>{choice.words}</strong>
        {choice.detail}
      </span>
      <span className={styles.card}>
        {card !== undefined && (
          <>
            command card <Code code={makeCode('K', commandCards.indexOf(card) + 1)} />
          </>
        )}
      </span>
    </button>
  );
}
