import { useQuery } from '@tanstack/react-query';
import { SelectField } from '../../../ui/SelectField.js';
import { placesQuery } from '../../stores/queries.js';

export interface PlaceKeptProps {
  readonly placeId: string | null;
  readonly onPlace: (placeId: string | null) => void;
  /** what stands there where no place is named */
  readonly unplaced?: string;
}

/** Where kept parts are put: scanned once, or chosen; it stays until another is. */
export function PlaceKept({ placeId, onPlace, unplaced = 'scan or choose the place' }: PlaceKeptProps) {
  const places = (useQuery(placesQuery).data?.places ?? []).filter((place) => place.kind !== 'tray');
  return (
    <SelectField
      label="Where it is put"
      value={placeId ?? ''}
      choices={[{ value: '', label: unplaced }, ...places.map((place) => ({ value: place.id, label: place.path }))]}
      onChange={(chosen) => onPlace(chosen === '' ? null : chosen)}
      note="scan its label; it stays for the next ones"
    />
  );
}
