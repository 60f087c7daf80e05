import { LoadPage, type LoadRow } from '@corewright/contracts/goods-in';
import { type QueryClient, useQueryClient } from '@tanstack/react-query';
import { useCallback, useEffect, useRef, useState, useSyncExternalStore } from 'react';
import { alone } from '../../api/lease.js';
import { network } from '../../api/network.js';
import { newKey } from '../../api/uuid.js';
import { pictures } from '../photographs/pictures.js';
import { resolveTexts, sendRow } from './actions.js';
import { type DeskTools, DraftDesk } from './draft-desk.js';
import { draftStore } from './draft-store.js';
import { loadQuery, loadsQuery } from './queries.js';
import { type RowAct, withRow } from './row-acts.js';
import type { RowDraft } from './row-draft.js';

/** The desk of one load for a screen: kept rows come back from the browser's store, and go out as soon as the network allows. */
export function useDraftDesk(
  loadId: string,
  handledRowId: string | null,
): {
  readonly desk: DraftDesk;
  readonly drafts: readonly RowDraft[];
  /** What was done in this sitting, the last at the end. */
  readonly acts: readonly RowAct[];
  readonly forgetAct: (act: RowAct) => void;
} {
  const client = useQueryClient();
  const handled = useRef(handledRowId);
  handled.current = handledRowId;
  const [acts, setActs] = useState<readonly RowAct[]>([]);
  const [{ desk, store }] = useState(() =>
    openDesk(loadId, client, (act, row) => setActs((before) => withRow(before, act, row))),
  );
  const drafts = useSyncExternalStore(desk.subscribe, desk.snapshot);
  useEffect(() => {
    void desk.takeOver(null);
    const endWatch = store.watch(loadId, () => void desk.takeOver(handled.current));
    const endNetwork = network.subscribe(() => {
      if (network.get().up) desk.retryNow();
    });
    return () => {
      endWatch();
      endNetwork();
      desk.rest();
    };
  }, [desk, store, loadId]);
  const forgetAct = useCallback((act: RowAct) => setActs((before) => before.filter((each) => each.id !== act.id)), []);
  return { desk, drafts, acts, forgetAct };
}

function openDesk(loadId: string, client: QueryClient, onCommand: DeskTools['onCommand']) {
  const store = draftStore();
  const desk = new DraftDesk({
    loadId,
    store,
    send: sendRow,
    resolve: resolveTexts,
    alone: (work) => alone('row-look-up', work),
    onAccepted: (row) => {
      showAccepted(client, loadId, row);
      void pictures.hurry();
    },
    onCommand,
    newKey,
    now: () => new Date(),
    later: (callback, delayMs) => {
      const timer = setTimeout(callback, delayMs);
      return () => clearTimeout(timer);
    },
  });
  return { desk, store };
}

/** Puts the server's reading of a row into the load on the screen; what the load counts is asked for anew. */
function showAccepted(client: QueryClient, loadId: string, row: LoadRow): void {
  client.setQueryData(loadQuery(loadId).queryKey, (page) => {
    if (page === undefined) return page;
    const rows = [...page.rows.filter((other) => other.id !== row.id), row].toSorted(
      (one, other) => one.position - other.position,
    );
    return LoadPage.parse({ ...page, rows });
  });
  void client.invalidateQueries({ queryKey: loadQuery(loadId).queryKey });
  void client.invalidateQueries({ queryKey: loadsQuery.queryKey });
}
