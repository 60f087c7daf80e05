import { useRouter } from '@tanstack/react-router';
import { createContext, type ReactNode, useContext, useEffect, useState, useSyncExternalStore } from 'react';
import { queue } from '../api/queue.js';
import { modeOfKey } from './modes.js';
import { type ChoiceTaker, type DeskState, ScanDesk, type ScanTaker } from './scan-desk.js';
import { singleKeysAct } from './single-keys.js';
import { listenForWedge } from './wedge.js';

const Desk = createContext<ScanDesk | null>(null);
const idleLookMilliseconds = 5_000;

/** One scanning service for all screens; it listens from here on, wherever the focus is. */
export function ScanningProvider({ children }: { readonly children: ReactNode }) {
  const router = useRouter();
  const [desk] = useState(() => new ScanDesk((path) => router.history.push(path)));

  useEffect(() => {
    const stopWedge = listenForWedge({
      onCode: desk.scan,
      onUnclear: desk.unclear,
      onLoneKey: (key) => {
        if (singleKeysAct()) desk.loneKey(key);
      },
      onEnter: desk.enter,
    });
    const stopQueue = queue.onSettled(desk.settled);
    const ticking = setInterval(desk.idle, idleLookMilliseconds);
    const modeKey = (event: KeyboardEvent) => {
      const mode = event.ctrlKey || event.altKey || event.metaKey || event.shiftKey ? null : modeOfKey(event.key);
      if (mode === null) return;
      event.preventDefault();
      desk.choose(mode);
    };
    addEventListener('keydown', modeKey);
    return () => {
      stopWedge();
      stopQueue();
      clearInterval(ticking);
      removeEventListener('keydown', modeKey);
    };
  }, [desk]);

  return <Desk.Provider value={desk}>{children}</Desk.Provider>;
}

export function useScanDesk(): ScanDesk {
  const desk = useContext(Desk);
  if (desk === null) throw new Error('useScanDesk needs the ScanningProvider above it');
  return desk;
}

/** The mode, the last answer, the keyed quantity; and what a screen can do with them. */
export function useScanning(): DeskState & { readonly desk: ScanDesk } {
  const desk = useScanDesk();
  return { ...useSyncExternalStore(desk.subscribe, desk.get), desk };
}

/** While the screen is there it gets each scan first, command cards excepted; it returns true for those it takes. */
export function useScanTaker(taker: ScanTaker | null): void {
  const desk = useScanDesk();
  useEffect(() => (taker === null ? undefined : desk.take(taker)), [desk, taker]);
}

/** While the screen is there it gets the choices, 1 to 9 from keys and 1 to 3 from command cards. */
export function useChoiceTaker(taker: ChoiceTaker | null): void {
  const desk = useScanDesk();
  useEffect(() => (taker === null ? undefined : desk.takeChoices(taker)), [desk, taker]);
}
