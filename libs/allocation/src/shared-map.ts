/**
 * What stands by its id, in many small maps, so that a changed one is a new map that shares all small ones but those that the change falls into.
 * Nobody ever sees another's changes.
 */
export class SharedMap<V> {
  private constructor(
    private readonly pieces: readonly ReadonlyMap<string, V>[],
    readonly size: number,
  ) {}

  static of<V>(entries: readonly (readonly [id: string, value: V])[]): SharedMap<V> {
    const pieces = Array.from({ length: piecesFor(entries.length) }, () => new Map<string, V>());
    for (const [id, value] of entries) pieces[pieceOf(id, pieces.length)]!.set(id, value);
    return new SharedMap(
      pieces,
      pieces.reduce((sum, piece) => sum + piece.size, 0),
    );
  }

  get(id: string): V | undefined {
    return this.pieces[pieceOf(id, this.pieces.length)]!.get(id);
  }

  *values(): Iterable<V> {
    for (const piece of this.pieces) yield* piece.values();
  }

  /** The same but for what is set; what is set to undefined is no longer there. */
  with(changes: ReadonlyMap<string, V | undefined>): SharedMap<V> {
    const pieces = [...this.pieces];
    let { size } = this;
    const own = new Map<number, Map<string, V>>();
    for (const [id, value] of changes) {
      const index = pieceOf(id, pieces.length);
      let piece = own.get(index);
      if (piece === undefined) {
        piece = new Map(pieces[index]);
        own.set(index, piece);
        pieces[index] = piece;
      }
      size -= piece.size;
      if (value === undefined) piece.delete(id);
      else piece.set(id, value);
      size += piece.size;
    }
    if (size <= mostInPiece * pieces.length) return new SharedMap(pieces, size);
    return SharedMap.of(pieces.flatMap((piece) => [...piece]));
  }
}

const fewInPiece = 16;
const mostInPiece = 4 * fewInPiece;

function piecesFor(size: number): number {
  return Math.max(1, Math.ceil(size / fewInPiece));
}

/** By all of the id's characters: ids that were made one after another begin alike (FNV-1a: Fowler, Noll, Vo). */
function pieceOf(id: string, pieces: number): number {
  let hash = 0x811c9dc5;
  for (let at = 0; at < id.length; at += 1) hash = Math.imul(hash ^ id.charCodeAt(at), 0x01000193);
  return (hash >>> 0) % pieces;
}
