import { useSyncExternalStore } from 'react';
import { type NetworkState, network } from './network.js';
import type { OutboundQueue, QueueSnapshot } from './outbound-queue.js';
import { queue } from './queue.js';

/** What waits on this device, and what needs a person: of the scans, or of another queue. */
export function useQueue(of: OutboundQueue = queue): QueueSnapshot {
  return useSyncExternalStore(of.subscribe, of.get);
}

export function useNetwork(): NetworkState {
  return useSyncExternalStore(network.subscribe, network.get);
}
