import type { QueuedCommand } from '../../api/queue-machine.js';
import { outcomeOf } from '../../scan/acts.js';
import { Button } from '../../ui/Button.js';
import { sayInstant } from '../../ui/say-when.js';
import styles from './SidePanel.module.css';

interface SidePanelProps {
  readonly commands: readonly QueuedCommand[];
  readonly onOpen: (command: QueuedCommand) => void;
}

/** What was stopped and waits for someone to decide. It stays until then, over reloads too. */
export function SidePanel({ commands, onOpen }: SidePanelProps) {
  if (commands.length === 0) return null;
  return (
    <section className={styles.side} aria-labelledby="at-the-side">
      <h2 id="at-the-side">
        At the side{' '}
        <span className="quiet">
          {commands.length === 1 ? 'one waits for a decision' : `${commands.length} wait for a decision`}
        </span>
      </h2>
      <ul>
        {commands.map((command) => (
          <li key={command.key}>
            <span className="quiet">{sayInstant(command.madeAt, new Date())}</span>
            <span>
              <b>{command.words}</b>: {outcomeOf(command).title}
            </span>
            <Button onPress={() => onOpen(command)}>Decide</Button>
          </li>
        ))}
      </ul>
    </section>
  );
}
