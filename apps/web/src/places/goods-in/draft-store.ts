import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { RowDraft } from './row-draft.js';

interface DraftSchema extends DBSchema {
  drafts: { key: string; value: RowDraft; indexes: { load: string } };
}

const CHANNEL = 'corewright-goods-in-drafts';

/** The browser's own store of rows that the server has not answered yet, shared by all tabs of this device. */
export interface DraftStore {
  list(loadId: string): Promise<readonly RowDraft[]>;
  find(id: string): Promise<RowDraft | undefined>;
  put(draft: RowDraft): Promise<void>;
  remove(draft: RowDraft): Promise<void>;
  /** Calls back when another tab has changed a draft of the load. Returns what ends the listening. */
  watch(loadId: string, onChange: () => void): () => void;
}

let opened: DraftStore | null = null;

/** The store of this tab; tabs tell one another of changes. */
export function draftStore(): DraftStore {
  opened ??= openDraftStore();
  return opened;
}

function openDraftStore(): DraftStore {
  const database: Promise<IDBPDatabase<DraftSchema>> = openDB<DraftSchema>('corewright-goods-in', 1, {
    upgrade(fresh) {
      fresh.createObjectStore('drafts', { keyPath: 'id' }).createIndex('load', 'loadId');
    },
  });
  // one channel for speaking and hearing: a tab does not hear itself
  const channel = new BroadcastChannel(CHANNEL);
  const tell = (loadId: string) => channel.postMessage(loadId);
  return {
    list: async (loadId) =>
      (await (await database).getAllFromIndex('drafts', 'load', loadId)).toSorted((one, other) => one.position - other.position),
    find: async (id) => (await database).get('drafts', id),
    put: async (draft) => {
      await (await database).put('drafts', draft);
      tell(draft.loadId);
    },
    remove: async (draft) => {
      await (await database).delete('drafts', draft.id);
      tell(draft.loadId);
    },
    watch: (loadId, onChange) => {
      const hear = (message: MessageEvent<unknown>) => {
        if (message.data === loadId) onChange();
      };
      channel.addEventListener('message', hear);
      return () => channel.removeEventListener('message', hear);
    },
  };
}
