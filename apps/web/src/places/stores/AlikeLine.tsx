import type { AlikeLie } from '@corewright/contracts/places';
import { useQuery } from '@tanstack/react-query';
import { Button } from '../../ui/Button.js';
import { type AlikeSought, alikeQuery } from './queries.js';

export interface AlikeLineProps {
  readonly sought: AlikeSought;
  readonly className?: string | undefined;
  /** puts a place where one more may lie into the place field; left out where there is none */
  readonly onPlace?: (place: AlikeLie['places'][number]) => void;
  /** the place that stands in that field now */
  readonly placeId?: string | null;
}

/** Where its like lie; nothing where nothing like it does, or nobody answers. */
export function AlikeLine({ sought, className, onPlace, placeId }: AlikeLineProps) {
  const { words, places } = useQuery(alikeQuery(sought)).data ?? { words: '', places: [] };
  if (words === '') return null;
  const further = onPlace === undefined ? [] : places.filter(({ id }) => id !== placeId);
  return (
    <p className={className}>
      {words}
      {further.map((place) => (
        <Button key={place.id} look="plain" onPress={() => onPlace?.(place)}>
          Put it in {place.path}
        </Button>
      ))}
    </p>
  );
}
