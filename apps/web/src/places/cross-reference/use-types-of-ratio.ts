import { type Ratio, ratioOf } from '@corewright/gears/ratio';
import { useQuery } from '@tanstack/react-query';
import { knownTypesQuery } from '../stores/identify-queries.js';

/** Which unit types of the books have a ratio, in words; empty where none has, or while that is not known. */
export function useTypesOfRatio(): (ratio: Ratio) => string {
  const types = useQuery(knownTypesQuery).data?.types ?? [];
  return ({ numerator, denominator }) =>
    types
      .flatMap(({ name, gears }) =>
        gears
          .filter(({ meshes }) => {
            const ratio = ratioOf(meshes);
            return ratio.numerator === numerator && ratio.denominator === denominator;
          })
          .map(({ gear }) => (gear === '' ? name : `${name}, ${gear}`)),
      )
      .join('; ');
}
