import { PlaceField } from '../../stores/place/PlaceField.js';

export interface PlaceKeptProps {
  readonly placeId: string | null;
  readonly onPlace: (placeId: string | null) => void;
  /** what an empty field stands for */
  readonly unplaced?: string;
}

/** Where kept parts are put: scanned once, or keyed; it stays until another is. The screen around it takes the scan. */
export function PlaceKept({ placeId, onPlace, unplaced }: PlaceKeptProps) {
  const note = 'scan its label, or key a word of its way; it stays for the next ones';
  return (
    <PlaceField
      label="Where it is put"
      placeId={placeId}
      onPlace={onPlace}
      note={unplaced === undefined ? note : `${note}; empty: ${unplaced}`}
      isQuiet
    />
  );
}
