import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type ImportFile, importFiles } from '@corewright/contracts/imports';
import { type CallHandler, createParamDecorator, type ExecutionContext, Injectable, type NestInterceptor } from '@nestjs/common';
import type { Request, Response } from 'express';
import multer from 'multer';
import { finalize, type Observable } from 'rxjs';
import { RefusalError } from '../platform/refusal.js';
import { inspectFile } from './csv/text-encoding.js';
import type { FileToImport } from './importer.js';

const megabyte = 1024 * 1024;
export const fileMegabytesMax = 64;
export const uploadMegabytesMax = 512;

export interface ReceivedFile extends FileToImport {
  /** SHA-256 of its name and bytes: two uploads of the same files are the same command */
  digest: Buffer;
}

type WithFiles = Request & { importFiles?: ReceivedFile[] };

/** The files of an upload, for a handler's parameter. */
export const ReceivedFiles = createParamDecorator(
  (_: unknown, context: ExecutionContext): ReceivedFile[] => context.switchToHttp().getRequest<WithFiles>().importFiles ?? [],
);

/**
 * Takes the files of an upload into a folder of their own on the disk, never whole into memory, and removes them when the answer is
 * made. Too much is refused by what the upload says of its length, and by what it turns out to be.
 */
@Injectable()
export class ReceiveFiles implements NestInterceptor {
  async intercept(context: ExecutionContext, next: CallHandler): Promise<Observable<unknown>> {
    const request = context.switchToHttp().getRequest<WithFiles>();
    refuseTooMuch(Number(request.headers['content-length'] ?? 0));
    const folder = await mkdtemp(join(tmpdir(), 'corewright-import-'));
    const remove = (): Promise<void> => rm(folder, { recursive: true, force: true });
    try {
      request.importFiles = await receive(request, context.switchToHttp().getResponse<Response>(), folder);
    } catch (error) {
      await remove();
      throw error;
    }
    return next.handle().pipe(finalize(() => void remove()));
  }
}

async function receive(request: Request, response: Response, folder: string): Promise<ReceivedFile[]> {
  const uploaded = multer({
    storage: multer.diskStorage({ destination: folder, filename: (_request, file, name) => name(null, `${file.fieldname}.csv`) }),
    limits: { fileSize: fileMegabytesMax * megabyte, files: importFiles.length, fields: 0 },
  }).fields(importFiles.map((name) => ({ name, maxCount: 1 })));
  await new Promise<void>((settle, fail) => {
    uploaded(request, response, (error: unknown) => (error ? fail(refusalOfUpload(error)) : settle()));
  });
  const fields = (request.files ?? {}) as Partial<Record<ImportFile, Express.Multer.File[]>>;
  const received: ReceivedFile[] = [];
  for (const file of importFiles) {
    const path = fields[file]?.[0]?.path;
    if (path === undefined) continue;
    const { encoding, digest } = await inspectFile(path);
    received.push({ file, path, encoding, digest: Buffer.concat([Buffer.from(`${file}\n`), digest]) });
  }
  if (received.length === 0) throw noFile('No file came with this.');
  return received;
}

function refuseTooMuch(bytes: number): void {
  if (bytes <= uploadMegabytesMax * megabyte) return;
  throw tooLarge(
    `This upload is ${Math.ceil(bytes / megabyte)} MB; at most ${uploadMegabytesMax} MB are taken at once, ${fileMegabytesMax} MB a file.`,
  );
}

function refusalOfUpload(error: unknown): unknown {
  const { code, field } = error as { code?: string; field?: string };
  if (code === 'LIMIT_FILE_SIZE')
    return tooLarge(`The file ${field}.csv is larger than ${fileMegabytesMax} MB, which is the most that is taken.`);
  if (code === 'LIMIT_UNEXPECTED_FILE' && importFiles.some((file) => file === field))
    return noFile(`The file ${field}.csv came twice.`);
  if (code?.startsWith('LIMIT_')) return noFile(`There is no file "${(field ?? '').slice(0, 60)}" among those that are read.`);
  if (error instanceof Error && /multipart|boundary|unexpected end of form|malformed/i.test(error.message))
    return noFile('The upload broke off or is not multipart/form-data.');
  return error;
}

function tooLarge(words: string): RefusalError {
  return new RefusalError({
    status: 413,
    code: 'too-large',
    title: 'Too large',
    detail: `${words} Nothing was changed. Split the file into several with the same headings and bring them in one after another.`,
  });
}

function noFile(words: string): RefusalError {
  return new RefusalError({
    status: 422,
    code: 'bad-input',
    title: 'That cannot be taken',
    detail: `${words} Nothing was changed. Send files named ${importFiles.map((file) => `${file}.csv`).join(', ')}, each once and each in the field of its name.`,
  });
}
