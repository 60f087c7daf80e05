import { queue } from '../../api/queue.js';
import type { QueuedCommand } from '../../api/queue-machine.js';
import { useNetwork, useQueue } from '../../api/use-queue.js';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { Queue } from '../../ui/Queue.js';
import { Section } from '../../ui/Section.js';
import { sayInstant } from '../../ui/say-when.js';

/** A command tried so often without a verdict may be put at the side, so that those behind it go. */
const stuckAfterTries = 5;

/** What this device has kept and the server does not have yet, and what the server refused. */
export function NotSent() {
  const { waiting, needsYou } = useQueue();
  const network = useNetwork();
  const stuck = waiting.find((command) => command.tries >= stuckAfterTries && network.up);
  return (
    <Section title="Scans not yet sent" aside="this device">
      {waiting.length === 0 && <p>Everything scanned here has reached the server.</p>}
      {waiting.length > 0 && <p>{network.up ? 'On their way, in order.' : 'No network. Kept here in order; nothing is lost.'}</p>}
      {waiting.length > 0 && <Queue label="Scans not yet sent" entries={waiting.map(entryOf)} />}
      {waiting.length > 0 && (
        <Acts>
          <Button onPress={() => void queue.hurry()}>Try now</Button>
          {stuck !== undefined && <Button onPress={() => void queue.setAside(stuck.key)}>Put the first at the side</Button>}
        </Acts>
      )}
      {needsYou.length > 0 && (
        <>
          <p>
            {needsYou.length === 1 ? (
              <>
                <b>One was refused</b> and waits for a decision. Nothing was changed by it.
              </>
            ) : (
              <>
                <b>{needsYou.length} were refused</b> and wait for a decision. Nothing was changed by them.
              </>
            )}
          </p>
          <Acts>
            <ButtonLink href="/bench">Decide on the bench</ButtonLink>
          </Acts>
        </>
      )}
    </Section>
  );
}

function entryOf(command: QueuedCommand) {
  const trouble = command.state.kind === 'waiting' ? command.state.trouble : null;
  return {
    id: command.key,
    when: sayInstant(command.madeAt, new Date()),
    words: command.words,
    state: trouble === null ? 'waits' : `waits: ${trouble}`,
  };
}
