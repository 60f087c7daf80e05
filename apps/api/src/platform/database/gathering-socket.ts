import { Socket } from 'node:net';

/**
 * A socket that holds back what is written until the turn of the event loop ends and sends it as one: a system call for
 * statements that travel together, where there was one for each.
 */
export class GatheringSocket extends Socket {
  private gathering = false;

  override cork(): void {
    this.gather();
    super.cork();
  }

  override write(piece: Uint8Array | string, told?: (error?: Error | null) => void): boolean;
  override write(piece: Uint8Array | string, encoding?: BufferEncoding, told?: (error?: Error | null) => void): boolean;
  override write(...words: unknown[]): boolean {
    this.gather();
    return super.write(...(words as Parameters<Socket['write']>));
  }

  private gather(): void {
    if (this.gathering) return;
    this.gathering = true;
    super.cork();
    process.nextTick(() => {
      this.gathering = false;
      this.uncork();
    });
  }
}
