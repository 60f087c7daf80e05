import type { Thing } from '@corewright/contracts/stores';
import { Tag } from '../../ui/Tag.js';

/** The large tag that heads a thing's page. */
export function ThingTag({ thing }: { readonly thing: Thing }) {
  const where = thing.holdings[0]?.words ?? null;
  switch (thing.kind) {
    case 'unit':
      return (
        <Tag
          kind="unit"
          size="large"
          code={thing.code}
          fact={thing.grade === '' ? 'not graded' : `grade ${thing.grade}`}
          what={thing.name}
          foot={[`owner ${thing.owner?.name ?? 'ours'}`, where, thing.weightKg === null ? null : `≈ ${thing.weightKg} kg`]}
        >
          {thing.words !== thing.name && thing.words}
        </Tag>
      );
    case 'lot':
      return (
        <Tag
          kind="lot"
          size="large"
          code={thing.code}
          fact={freeInWords(thing)}
          what={thing.name}
          foot={[thing.packet.asRead === '' ? 'packet date unknown' : `packet ${thing.packet.asRead}`, ownerOf(thing), where]}
        >
          {thing.part !== null && (
            <>
              <span className="pn">{thing.part.number}</span>, {thing.part.maker}
            </>
          )}
        </Tag>
      );
    case 'component':
      return (
        <Tag
          kind="component"
          size="large"
          code={thing.code}
          fact={`${thing.position} of ${thing.of}`}
          what={thing.name}
          foot={[ownerOf(thing), where]}
        >
          off {thing.unit.name}
        </Tag>
      );
    case 'unsorted':
      return (
        <Tag
          kind="unsorted"
          size="large"
          code={thing.code}
          fact={thing.piecesLeft === null ? null : `about ${thing.piecesLeft}`}
          what={thing.words}
          foot={[ownerOf(thing), where]}
        >
          nobody has named it yet
        </Tag>
      );
  }
}

/** Null for what is ours. */
function ownerOf({ owner }: Thing): string | null {
  return owner === null ? null : `owner ${owner.name}`;
}

function freeInWords(thing: Thing): string {
  if (thing.held === '0') return 'none held';
  if (thing.condemned) return `${thing.held} condemned`;
  if (thing.missing !== null) return `${thing.held} not found`;
  if (thing.heldBack !== null) return `${thing.held} held back`;
  if (thing.owner !== null && thing.claimed === '0') return `${thing.held} not ours`;
  return thing.claimed === '0' ? `${thing.held} free` : `${thing.claimed} of ${thing.held} claimed`;
}
