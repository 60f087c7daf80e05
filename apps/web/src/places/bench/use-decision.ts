import { JobScan } from '@corewright/contracts/bench';
import { useQueryClient } from '@tanstack/react-query';
import { useRef, useState } from 'react';
import { asProblem } from '../../api/problem.js';
import { queue } from '../../api/queue.js';
import type { QueuedCommand } from '../../api/queue-machine.js';
import { codeOf, decidedCommand, scanCommand } from '../../scan/acts.js';
import { useScanDesk } from '../../scan/scanning.js';
import type { BenchChoice } from './choices.js';
import { quarantineQuery } from './queries.js';

/** What a person has said with a choice: the members of the scan that it adds. */
export type Said = Pick<Partial<JobScan>, 'inPlaceOf' | 'furtherLine' | 'override' | 'quantity'>;

/** Carries out a choice about a stopped scan. The choice is a command of its own; the stopped scan then leaves the side. */
export function useDecision(command: QueuedCommand): {
  readonly make: (choice: BenchChoice, said?: Said) => Promise<void>;
  readonly trouble: string | null;
} {
  const desk = useScanDesk();
  const client = useQueryClient();
  const [trouble, setTrouble] = useState<string | null>(null);
  // a double click is one decision: the second would be a command of its own
  const isMaking = useRef(false);

  const again = async (said: Partial<JobScan>) => {
    const decided = decidedCommand(command, said);
    if (decided === null) setTrouble('This scan cannot be made anew. Scan the thing once more.');
    else await desk.decide(command, decided);
  };

  const toQuarantine = async () => {
    const places = await client.fetchQuery(quarantineQuery);
    const place = places[0];
    const code = codeOf(command);
    if (place === undefined) return setTrouble('There is no place for quarantine yet. Add one in Stores, then choose again.');
    if (code === null) return setTrouble('This is no scan of a thing.');
    await desk.decide(
      command,
      scanCommand('put away', code, { id: place.id, code: place.code, name: place.name, detail: place.path }),
    );
  };

  const carryOut = async (choice: BenchChoice, said: Said): Promise<void> => {
    if (choice.kind === 'leave' || choice.kind === 'pick-another') return queue.dismiss(command.key);
    if (choice.kind === 'again') return queue.tryAgain(command.key);
    if (choice.kind === 'quarantine') return toQuarantine();
    if (choice.kind === 'open-one') return again({ openOne: true });
    return again(choice.kind === 'have-it-here' ? { haveItHere: true } : said);
  };

  return {
    trouble,
    make: async (choice, said = {}) => {
      if (isMaking.current) return;
      isMaking.current = true;
      setTrouble(null);
      try {
        await carryOut(choice, said);
      } catch (thrown) {
        const problem = asProblem(thrown);
        setTrouble(`${problem.title}. ${problem.detail}`);
      } finally {
        isMaking.current = false;
      }
    },
  };
}
