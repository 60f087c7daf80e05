import { useSyncExternalStore } from 'react';
import { type NetworkState, network } from './network.js';
import { type QueueSnapshot, queue } from './queue.js';

/** What waits on this device, and what needs a person. */
export function useQueue(): QueueSnapshot {
  return useSyncExternalStore(queue.subscribe, queue.get);
}

export function useNetwork(): NetworkState {
  return useSyncExternalStore(network.subscribe, network.get);
}
