/** The process in which pictures are cleaned and made smaller: what a strange file does to a reader of pictures, it does here. */
import { develop } from './develop.js';
import type { DevelopAnswer, DevelopOrder } from './orders.js';

process.on('message', (order: DevelopOrder) => {
  void answerTo(order).then((answer) => process.send?.(answer));
});
// The server has ended, however it ended.
process.on('disconnect', () => process.exit(0));

async function answerTo({ number, source, sha256, into }: DevelopOrder): Promise<DevelopAnswer> {
  try {
    return { number, result: await develop(source, sha256, into) };
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    return { number, trouble: { code: code ?? null, message } };
  }
}
