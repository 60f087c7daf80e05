import { TrayContents, type UnKit, UnKitDone } from '@corewright/contracts/un-kit';
import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { api } from '../../../api/client.js';
import { newKey } from '../../../api/uuid.js';

/** What lies in a job's tray, and where it came from. */
export const trayContentsQuery = (jobId: string) =>
  queryOptions({
    queryKey: ['jobs', 'tray-contents', jobId],
    queryFn: ({ signal }) => api.get(TrayContents, `/api/jobs/${jobId}/tray-contents`, { signal }),
  });

/** Puts rows back from a tray, all in one act. */
export function useUnKit(jobId: string, onDone: (done: UnKitDone) => void) {
  return useTrayChange(onDone, (rows: Pick<UnKit, 'claims' | 'rows'>) =>
    api.send(UnKitDone, 'POST', `/api/jobs/${jobId}/un-kits`, { id: newKey(), ...rows }, { key: newKey() }),
  );
}

/** Takes that back as one. */
export function useUndoUnKit(onDone: (done: UnKitDone) => void) {
  return useTrayChange(onDone, (unKitId: string) =>
    api.send(UnKitDone, 'POST', `/api/un-kits/${unKitId}/undoing`, { id: newKey() }, { key: newKey() }),
  );
}

function useTrayChange<Keyed>(onDone: (done: UnKitDone) => void, send: (keyed: Keyed) => Promise<UnKitDone>) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: send,
    onSuccess: async (done) => {
      await Promise.all([client.invalidateQueries({ queryKey: ['jobs'] }), client.invalidateQueries({ queryKey: ['stores'] })]);
      onDone(done);
    },
  });
}
