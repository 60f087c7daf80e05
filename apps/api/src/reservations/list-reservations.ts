import type { Reservation } from '@corewright/contracts/reservations';
import { mayServe } from '../bench/may-serve.js';
import { thingsOfIds } from '../bench/scan-facts.js';
import { offersFor } from '../jobs/offers-for-line.js';
import type { Reader } from '../platform/database/database.js';
import { type LockedThing, thingsAsTheyAre } from '../stores/ledger.js';
import { withoutEnd } from './decide-reserve.js';
import { type LineToServe, linesToServe, type Serving, servingOf } from './goods.queries.js';
import { type ReservationRow, reservationRows, shownReservation } from './reservation.queries.js';

/** What a job has reserved, each with what would stand in its way if it were asked for today. */
export async function listReservations(reader: Reader, jobId: string, today: string): Promise<Reservation[]> {
  const rows = await reservationRows(reader, jobId);
  const ids = (of: (row: ReservationRow) => string | null) => [...new Set(rows.map(of))].filter((id) => id !== null);
  const thingIds = ids((row) => row.thingId);
  const [lines, facts, things] = await Promise.all([
    linesToServe(
      reader,
      jobId,
      ids((row) => row.lineId),
    ),
    thingsOfIds(reader, thingIds),
    thingsAsTheyAre(reader, thingIds),
  ]);
  const serving = await servingOf(reader, jobId, lines, rows);
  return rows.map((row) => {
    const line = lines.find(({ id }) => id === row.lineId) ?? null;
    const thing = facts.find(({ id }) => id === row.thingId);
    const locked = things.find(({ id }) => id === row.thingId);
    const doubts = [line && noLongerServes(row, line, serving), thing && locked && barredSince({ thing, locked, today, line })];
    return shownReservation(row, doubts.filter((words) => words).join(' '));
  });
}

function barredSince(state: Parameters<typeof mayServe>[0] & { locked: LockedThing; line: LineToServe | null }): string | null {
  if (state.locked.condemned) return 'It was condemned since.';
  if (state.locked.missingSince !== null) return 'It was looked for since, and not found.';
  const held = mayServe(state, state.line);
  return held && withoutEnd(held.detail);
}

/** It was reserved in place of the line's own part on a word that holds no longer. */
function noLongerServes(row: ReservationRow, line: LineToServe, { servers, substitutes }: Serving): string | null {
  if (row.partId === null || row.partId === line.partId) return null;
  const { offers } = offersFor(line, servers.get(line.partId) ?? [], substitutes);
  if (offers.find(({ partId }) => partId === row.partId)?.instead?.isAccepted) return null;
  return `What said that ${row.partCalled} serves in place of ${line.name} was withdrawn since. It stays reserved until somebody releases it.`;
}
