import { useQuery } from '@tanstack/react-query';
import { SelectField } from '../../../ui/SelectField.js';
import { placesQuery } from '../../stores/queries.js';

export interface PlaceKeptProps {
  readonly placeId: string | null;
  readonly onPlace: (placeId: string | null) => void;
}

/** Where kept parts are put: scanned once, or chosen; it stays until another is. */
export function PlaceKept({ placeId, onPlace }: PlaceKeptProps) {
  const places = (useQuery(placesQuery).data?.places ?? []).filter((place) => place.kind !== 'tray');
  return (
    <SelectField
      label="Where it is put"
      value={placeId ?? ''}
      choices={[
        { value: '', label: 'scan or choose the place' },
        ...places.map((place) => ({ value: place.id, label: place.path })),
      ]}
      onChange={(chosen) => onPlace(chosen === '' ? null : chosen)}
      note="scan its label; it stays for the next ones"
    />
  );
}
