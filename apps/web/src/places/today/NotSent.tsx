import { queue } from '../../api/queue.js';
import type { QueuedCommand } from '../../api/queue-machine.js';
import { useNetwork, useQueue } from '../../api/use-queue.js';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { Queue } from '../../ui/Queue.js';
import { Section } from '../../ui/Section.js';
import { sayInstant } from '../../ui/say-when.js';
import { pictures } from '../photographs/pictures.js';

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
      <PicturesNotSent />
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

function PicturesNotSent() {
  const { waiting, needsYou } = useQueue(pictures);
  const all = [...waiting, ...needsYou];
  const stuck = waiting.filter((command) => command.tries >= stuckAfterTries);
  if (all.length === 0) return null;
  return (
    <>
      <p>{all.length === 1 ? 'One photograph is' : `${all.length} photographs are`} kept on this device and not yet sent.</p>
      <Queue label="Photographs not yet sent" entries={all.map(entryOf)} />
      <Acts>
        <Button onPress={() => void sendPictures(needsYou)}>Send them now</Button>
        {stuck.length > 0 && <Button onPress={() => void putAside(stuck)}>Put what is stuck at the side</Button>}
        {needsYou.length > 0 && <Button onPress={() => void throwAway(needsYou)}>Throw away what is at the side</Button>}
      </Acts>
    </>
  );
}

async function sendPictures(refused: readonly QueuedCommand[]): Promise<void> {
  for (const { key } of refused) await pictures.tryAgain(key);
  await pictures.hurry();
}

async function putAside(stuck: readonly QueuedCommand[]): Promise<void> {
  for (const { key } of stuck) await pictures.setAside(key);
}

async function throwAway(refused: readonly QueuedCommand[]): Promise<void> {
  for (const { key } of refused) await pictures.dismiss(key);
}

function entryOf(command: QueuedCommand) {
  const { state } = command;
  const trouble = state.kind === 'waiting' ? state.trouble : null;
  return {
    id: command.key,
    when: sayInstant(command.madeAt, new Date()),
    words: command.words,
    state: state.kind === 'needs-you' ? `at the side: ${state.reason.title}` : trouble === null ? 'waits' : `waits: ${trouble}`,
  };
}
