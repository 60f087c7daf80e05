import type { Request, Response } from 'express';
import multer, { MulterError } from 'multer';
import { badInput, RefusalError } from '../../platform/refusal.js';

const megabyte = 1024 * 1024;
const bytesMax = 15 * megabyte;

const reader = multer({
  storage: multer.memoryStorage(),
  limits: { fileSize: bytesMax, files: 1, fields: 0, parts: 2, headerPairs: 50 },
}).single('picture');

/**
 * Reads the one file of a multipart upload into memory.
 * @throws RefusalError when there is none, more than one, or one that is too large
 */
export function pictureOf(request: Request, response: Response): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    reader(request, response, (failure: unknown) => {
      if (failure) return reject(refusalOf(failure));
      if (!request.file || request.file.size === 0)
        return reject(new RefusalError(badInput('picture', 'No picture came with this. Choose one and send it again.')));
      resolve(request.file.buffer);
    });
  });
}

function refusalOf(failure: unknown): Error {
  if (failure instanceof MulterError) {
    if (failure.code === 'LIMIT_FILE_SIZE')
      return new RefusalError({
        status: 413,
        code: 'too-large',
        title: 'Too large',
        detail: `A picture may have ${bytesMax / megabyte} megabytes at most. Send a smaller one.`,
      });
    return new RefusalError(badInput('picture', 'Send one picture at a time, in the field “picture”.'));
  }
  // What the parser says of a body that breaks off is a fault of the sender's connection, not of ours.
  return new RefusalError({
    status: 400,
    code: 'unreadable',
    title: 'Not readable',
    detail: 'The upload broke off or is not in the form of an upload. Nothing was kept: send it again.',
  });
}
