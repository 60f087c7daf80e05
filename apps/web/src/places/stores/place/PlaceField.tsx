import { ScanAnswer } from '@corewright/contracts/scanning';
import { PlaceList } from '@corewright/contracts/stores';
import { useCallback, useState } from 'react';
import { api } from '../../../api/client.js';
import { useScanTaker } from '../../../scan/scanning.js';
import { ComboField } from '../../../ui/ComboField.js';
import type { ComboSource } from '../../../ui/combo-options.js';

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
}

/** A place, keyed by words of its way or scanned. It finds one among as many as there are. */
export function PlaceField({ label, onPlace, error }: PlaceFieldProps) {
  const [text, setText] = useState('');
  useScanTaker(
    useCallback(
      (parsed) => {
        if (parsed.kind !== 'P') return false;
        void api.get(ScanAnswer, `/api/scan/${parsed.code}`).then(
          (answer) => {
            setText(answer.where);
            onPlace(answer.id);
          },
          () => setText(parsed.code),
        );
        return true;
      },
      [onPlace],
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
      note="scan its label, or key a word of its way or its nickname"
      error={error}
      autoFocus
    />
  );
}
