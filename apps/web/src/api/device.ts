import { newKey } from './uuid.js';

const shelf = 'corewright.device';
let inMemory: string | null = null;

/** This browser's own id: the command log says from which device a scan came. Kept as long as the browser keeps it. */
export function deviceId(): string {
  try {
    const kept = localStorage.getItem(shelf);
    if (kept !== null) return kept;
    const made = newKey();
    localStorage.setItem(shelf, made);
    return made;
  } catch {
    // storage may be shut (private window): then the id lasts as long as the page
    inMemory ??= newKey();
    return inMemory;
  }
}
