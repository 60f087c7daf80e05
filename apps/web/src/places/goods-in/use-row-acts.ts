import type { LoadPage } from '@corewright/contracts/goods-in';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { strikeRow } from './actions.js';
import type { DraftDesk } from './draft-desk.js';
import { type RowAct, takingBack } from './row-acts.js';
import { valuesOf } from './row-contract.js';
import type { RowDraft } from './row-draft.js';

/** The last act of this sitting, and what takes it back. A row on its way is not taken back: the server may have it already. */
export function useRowActs(props: {
  readonly load: LoadPage;
  readonly desk: DraftDesk;
  readonly drafts: readonly RowDraft[];
  readonly acts: readonly RowAct[];
  readonly onTakenBack: (act: RowAct) => void;
}) {
  const { load, desk } = props;
  const client = useQueryClient();
  const last = props.acts.at(-1) ?? null;
  const onServer = (id: string) => load.rows.find((row) => row.id === id && !row.struckOut);
  const take = useMutation({
    mutationFn: async (act: RowAct) => {
      for (const step of takingBack(act, (id) => onServer(id) !== undefined)) {
        const row = onServer(step.id);
        if (step.kind === 'drop') desk.drop(step.id);
        else if (row !== undefined && step.kind === 'strike') await strikeRow(load.id, row, 'Taken back by who keyed it');
        else if (row !== undefined && step.kind === 'key') {
          desk.key(step.id, step.values, { position: row.position, base: { version: row.version, values: valuesOf(row) } });
          await desk.save(step.id, null);
        }
      }
    },
    onSuccess: (_, act) => props.onTakenBack(act),
    // until the rows are read anew nothing further is taken back: it would be done to what stood there before
    onSettled: () => client.invalidateQueries({ queryKey: ['goods-in'] }),
  });
  const isUnderWay =
    last?.rows.some(({ id }) =>
      props.drafts.some((draft) => draft.id === id && (draft.command !== null || draft.awaitsLookup)),
    ) === true;
  return {
    last,
    isUnderWay,
    isPending: take.isPending,
    error: take.error,
    takeBack: () => {
      if (last !== null && !isUnderWay && !take.isPending) take.mutate(last);
    },
  };
}

export type LastAct = ReturnType<typeof useRowActs>;
