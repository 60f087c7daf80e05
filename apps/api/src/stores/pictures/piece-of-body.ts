import { setImmediate } from 'node:timers/promises';
import { createParamDecorator, type ExecutionContext } from '@nestjs/common';
import type { Request } from 'express';
import { badInput, RefusalError } from '../../platform/refusal.js';

export const pieceBytesMax = 1024 * 1024;

/** The bytes of a request, which nobody reads before they are wanted. */
export interface PieceOfBody {
  /** @throws RefusalError where there are none, or more than a piece may have */
  read(): Promise<Buffer>;
}

export const PieceOfBody = createParamDecorator((_: unknown, context: ExecutionContext): PieceOfBody => {
  const request = context.switchToHttp().getRequest<Request>();
  return { read: () => bytesOf(request) };
});

async function bytesOf(request: Request): Promise<Buffer> {
  if (Number(request.header('content-length') ?? 0) > pieceBytesMax) throw tooLarge();
  if (request.header('content-encoding') !== undefined)
    throw new RefusalError(badInput('body', 'A piece of a photograph is sent as it is, without an encoding.'));
  const piece = Buffer.allocUnsafeSlow(Math.min(Number(request.header('content-length')) || pieceBytesMax, pieceBytesMax));
  let bytes = 0;
  try {
    for await (const chunk of request as AsyncIterable<Buffer>) {
      if (bytes + chunk.length > piece.length) throw tooLarge();
      bytes += chunk.copy(piece, bytes);
      // a megabyte that has all arrived would be read at one go: whoever scans meanwhile comes in between
      await setImmediate();
    }
  } catch (error) {
    throw error instanceof RefusalError ? error : brokeOff();
  }
  if (bytes === 0) throw new RefusalError(badInput('body', 'No piece of a photograph came with this. Send it again.'));
  return piece.subarray(0, bytes);
}

function tooLarge(): RefusalError {
  return new RefusalError({
    status: 413,
    code: 'too-large',
    title: 'Too large',
    detail: 'A photograph is sent in pieces of one megabyte at most.',
  });
}

/** What the parser says of a body that breaks off is a fault of the sender's connection, not of ours. */
function brokeOff(): RefusalError {
  return new RefusalError({
    status: 400,
    code: 'unreadable',
    title: 'Not readable',
    detail: 'The upload broke off. What had arrived before is kept: it goes on from there.',
  });
}
