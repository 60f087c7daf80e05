import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { QueuedCommand } from './queue-machine.js';
import type { QueueStore } from './queue-runner.js';

interface Shelves extends DBSchema {
  commands: { key: number; value: Omit<QueuedCommand, 'order'> & { order?: number }; indexes: { key: string } };
}

/** The queue on disk, in IndexedDB. The order is the database's own count, so that two tabs never share a place. */
export async function openQueueStore(name: string): Promise<QueueStore> {
  const database: IDBPDatabase<Shelves> = await openDB<Shelves>(name, 1, {
    upgrade(fresh) {
      const commands = fresh.createObjectStore('commands', { keyPath: 'order', autoIncrement: true });
      commands.createIndex('key', 'key', { unique: true });
    },
  });
  return {
    all: async () => (await database.getAll('commands')) as QueuedCommand[],
    append: async (command) => {
      const transaction = database.transaction('commands', 'readwrite', { durability: 'strict' });
      const order = await transaction.store.add(command);
      await transaction.done;
      return { ...command, order };
    },
    put: async (command) => {
      const transaction = database.transaction('commands', 'readwrite', { durability: 'strict' });
      await transaction.store.put(command);
      await transaction.done;
    },
    remove: async (orders) => {
      const transaction = database.transaction('commands', 'readwrite');
      await Promise.all(orders.map((order) => transaction.store.delete(order)));
      await transaction.done;
    },
  };
}

/** The queue in memory, where the browser keeps nothing (a private window): it lasts as long as the page. */
export function memoryQueueStore(): QueueStore {
  const commands = new Map<number, QueuedCommand>();
  let last = 0;
  return {
    all: async () => [...commands.values()],
    append: async (command) => {
      if ([...commands.values()].some((other) => other.key === command.key))
        throw new Error(`The key ${command.key} is in the queue already`);
      last += 1;
      const placed = { ...command, order: last };
      commands.set(last, placed);
      return placed;
    },
    put: async (command) => {
      commands.set(command.order, command);
    },
    remove: async (orders) => {
      for (const order of orders) commands.delete(order);
    },
  };
}
