import { useQuery } from '@tanstack/react-query';
import { useCallback, useState } from 'react';
import { placeOfScan } from '../../../scan/resolve.js';
import type { ScanTaker } from '../../../scan/scan-desk.js';
import { useScanTaker } from '../../../scan/scanning.js';
import { ComboField } from '../../../ui/ComboField.js';
import { placeQuery } from '../queries.js';
import { findAnyPlaces, findPlaces } from './find-places.js';

export interface PlaceFieldProps {
  readonly label: string;
  /** the place, null as long as none is chosen; and what stands in the field */
  readonly onPlace: (placeId: string | null, text: string) => void;
  readonly error?: string | null;
  /** the place that stands there now; its way is looked up where it is not given */
  readonly placeId?: string | null;
  /** the way that stands in the field at first, where it is known */
  readonly path?: string;
  /** null for none */
  readonly note?: string | null;
  /** the screen around it takes scans of places itself, or scans are not meant for it */
  readonly isQuiet?: boolean;
  /** it is keyed first; else only where it takes scans */
  readonly isFirst?: boolean;
  /** the kit trays of jobs are among the places */
  readonly withTrays?: boolean;
}

/** A place, keyed by words of its way or scanned. It finds one among as many as there are. */
export function PlaceField(props: PlaceFieldProps) {
  const { label, onPlace, error, placeId, note, isQuiet = false, isFirst = !isQuiet, withTrays = false } = props;
  const [text, setText] = useState(props.path ?? '');
  // a way that comes later would land in the midst of what is being keyed
  const [knownId, setKnownId] = useState(props.path === undefined ? null : (placeId ?? null));
  const isUnread = typeof placeId === 'string' && placeId !== '' && placeId !== knownId;
  const chosen = useQuery({ ...placeQuery(placeId ?? ''), enabled: isUnread }).data;
  // reckoned, not put there by an effect: an answer that comes while somebody keys never writes over what they keyed
  const shown = isUnread && chosen?.id === placeId ? chosen.path : text;
  const put = useCallback(
    (id: string | null, words: string) => {
      setText(words);
      setKnownId(id);
      onPlace(id, words);
    },
    [onPlace],
  );
  const taker = useCallback<ScanTaker>(
    (parsed) => {
      if (parsed.kind !== 'P') return false;
      void placeOfScan(parsed.code).then(
        (place) => put(place?.id ?? null, place?.path ?? parsed.code),
        () => put(null, parsed.code),
      );
      return true;
    },
    [put],
  );
  // the desk asks one taker alone, the last that came: a quiet field is none, or it would keep scans from the screen around it
  useScanTaker(isQuiet ? null : taker);
  return (
    <ComboField
      label={label}
      text={shown}
      onText={(keyed) => put(null, keyed)}
      onChoose={(option) => put(option.id, option.label)}
      source={withTrays ? findAnyPlaces : findPlaces}
      note={note === undefined ? 'scan its label, or key a word of its way or its nickname' : note}
      error={error}
      autoFocus={isFirst}
    />
  );
}
