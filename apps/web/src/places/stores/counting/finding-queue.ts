import { type CountFindingKind, RecordCountFinding } from '@corewright/contracts/counting';
import type { NewCommand, QueueSnapshot } from '../../../api/outbound-queue.js';
import type { QueuedCommand } from '../../../api/queue-machine.js';

const findingsPath = '/api/count-findings';

/** What is keyed of something found, or of a figure in doubt. */
export interface FoundKeyed {
  /** its photographs come by it, before it is kept or after */
  readonly id: string;
  readonly kind: CountFindingKind;
  readonly placeId: string;
  readonly code: string;
  readonly words: string;
  readonly quantity: string;
}

/** How many pieces; null: nobody said. Undefined where it is no number. */
export function piecesOf({ kind, quantity }: FoundKeyed): number | null | undefined {
  if (kind === 'in doubt' || quantity.trim() === '') return null;
  const pieces = Number(quantity);
  return Number.isInteger(pieces) && pieces > 0 ? pieces : undefined;
}

/** The command that writes it down: it waits in this device's queue behind the scans, until the server has decided. */
export function findingCommand(keyed: FoundKeyed, countId: string, now: Date): NewCommand {
  const { id, kind, placeId, code, words } = keyed;
  return {
    method: 'POST',
    path: findingsPath,
    body: {
      id,
      kind,
      placeId,
      countId,
      words,
      quantity: piecesOf(keyed) ?? null,
      code: kind === 'no label' ? null : code,
      occurredAt: now.toISOString(),
    },
    words: `Written down in a count: ${words}`,
  };
}

export interface QueuedFinding {
  readonly body: RecordCountFinding;
  readonly command: QueuedCommand;
}

/** What this device keeps of a count: what waits, and what was refused. */
export function findingsKept(
  { waiting, needsYou }: Pick<QueueSnapshot, 'waiting' | 'needsYou'>,
  countId: string,
): { waiting: readonly QueuedFinding[]; refused: readonly QueuedFinding[] } {
  const ofCount = (commands: readonly QueuedCommand[]) =>
    commands.flatMap((command) => findingOf(command) ?? []).filter(({ body }) => body.countId === countId);
  return { waiting: ofCount(waiting), refused: ofCount(needsYou) };
}

function findingOf(command: QueuedCommand): QueuedFinding | null {
  if (command.path !== findingsPath) return null;
  const body = RecordCountFinding.safeParse(command.body);
  return body.success ? { body: body.data, command } : null;
}
