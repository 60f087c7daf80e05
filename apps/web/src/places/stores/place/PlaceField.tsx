import { ScanAnswer } from '@corewright/contracts/scanning';
import { PlaceList } from '@corewright/contracts/stores';
import { useQuery } from '@tanstack/react-query';
import { useCallback, useEffect, useState } from 'react';
import { api } from '../../../api/client.js';
import { useScanTaker } from '../../../scan/scanning.js';
import { ComboField } from '../../../ui/ComboField.js';
import type { ComboSource } from '../../../ui/combo-options.js';
import { placeQuery } from '../queries.js';

const shownMax = 40;

/** Open places by words of their way, nickname or code; no kit tray is among them. */
const findPlaces: ComboSource = async (typed, signal) => {
  const { places } = await api.get(PlaceList, `/api/places?q=${encodeURIComponent(typed.slice(0, 100))}`, { signal });
  return places
    .filter(({ kind }) => kind !== 'tray')
    .slice(0, shownMax)
    .map(({ id, path, kind }) => ({ id, label: path, note: kind }));
};

export interface PlaceFieldProps {
  readonly label: string;
  readonly onPlace: (placeId: string | null) => void;
  readonly error?: string | null;
  /** the place that stands there now; its way is looked up */
  readonly placeId?: string | null;
  readonly note?: string;
  /** the screen around it takes scans of places itself, or another field is to be keyed first */
  readonly isQuiet?: boolean;
}

/** A place, keyed by words of its way or scanned. It finds one among as many as there are. */
export function PlaceField({ label, onPlace, error, placeId, note, isQuiet = false }: PlaceFieldProps) {
  const [text, setText] = useState('');
  const chosen = useQuery({ ...placeQuery(placeId ?? ''), enabled: typeof placeId === 'string' && placeId !== '' }).data;
  useEffect(() => {
    if (chosen !== undefined && chosen.id === placeId) setText(chosen.path);
  }, [chosen, placeId]);
  useScanTaker(
    useCallback(
      (parsed) => {
        if (parsed.kind !== 'P' || isQuiet) return false;
        void api.get(ScanAnswer, `/api/scan/${parsed.code}`).then(
          (answer) => {
            setText(answer.where);
            onPlace(answer.id);
          },
          () => setText(parsed.code),
        );
        return true;
      },
      [onPlace, isQuiet],
    ),
  );
  return (
    <ComboField
      label={label}
      text={text}
      onText={(keyed) => {
        setText(keyed);
        onPlace(null);
      }}
      onChoose={(option) => {
        setText(option.label);
        onPlace(option.id);
      }}
      source={findPlaces}
      note={note ?? 'scan its label, or key a word of its way or its nickname'}
      error={error}
      autoFocus={!isQuiet}
    />
  );
}
