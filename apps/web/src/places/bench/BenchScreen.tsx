import { useQueryClient } from '@tanstack/react-query';
import { useSearch } from '@tanstack/react-router';
import { useEffect, useState } from 'react';
import { queue } from '../../api/queue.js';
import type { QueuedCommand } from '../../api/queue-machine.js';
import { useQueue } from '../../api/use-queue.js';
import { useScanning } from '../../scan/scanning.js';
import { ActsPanel } from './ActsPanel.js';
import { AnswerPanel } from './AnswerPanel.js';
import { BenchFoot } from './BenchFoot.js';
import styles from './BenchScreen.module.css';
import { BenchSign } from './BenchSign.js';
import { RefusalPanel } from './RefusalPanel.js';
import { SidePanel } from './SidePanel.js';

/**
 * The screen on the wall, in the hand or on the desk: the mode across the shop, the job, what the last scan came to,
 * the last acts. A refusal stands large until the next scan, then waits at the side until someone decides.
 */
export function BenchScreen() {
  const { modes, answer } = useScanning();
  const { needsYou } = useQueue();
  const { wall } = useSearch({ from: '/inside/bench' });
  const opened = useOpened(answer?.turn ?? 0);
  useRefetchWhenSettled();

  const justRefused = answer?.tone === 'refused' ? needsYou.find((command) => command.key === answer.key) : undefined;
  const inHand = needsYou.find((command) => command.key === opened.key) ?? justRefused;
  const atTheSide = needsYou.filter((command) => command !== inHand);

  return (
    <div className={styles.bench}>
      <h1 className="hidden">Bench: {modes.mode}</h1>
      <BenchSign />
      <div className={styles.middle}>
        <section className={styles.answer} aria-label="The last scan">
          {inHand === undefined ? <AnswerPanel /> : <RefusalPanel key={inHand.key} command={inHand} />}
        </section>
        <div className={styles.side}>
          <SidePanel commands={atTheSide} onOpen={opened.open} />
          <ActsPanel />
        </div>
      </div>
      <BenchFoot onWall={wall === 'yes'} />
    </div>
  );
}

/** Which refusal a person has taken up; a new scan lays it down again. */
function useOpened(turn: number): { readonly key: string | null; readonly open: (command: QueuedCommand) => void } {
  const [opened, setOpened] = useState<{ key: string; turn: number } | null>(null);
  return {
    key: opened !== null && opened.turn === turn ? opened.key : null,
    open: (command) => setOpened({ key: command.key, turn }),
  };
}

/** The server's hint comes too, but the bench does not wait for it. */
function useRefetchWhenSettled(): void {
  const client = useQueryClient();
  useEffect(() => queue.onSettled(() => void client.invalidateQueries({ queryKey: ['bench'] })), [client]);
}
