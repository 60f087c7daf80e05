import { createRequire } from 'node:module';
import { Worker } from 'node:worker_threads';
import { Injectable, type OnModuleDestroy } from '@nestjs/common';
import { RefusalError } from '../refusal.js';

/** The solver of the University of Edinburgh as a module; found from here, for the worker has no place of its own to look from. */
const solverPath = createRequire(import.meta.url).resolve('highs');

/** A solver blocks whatever thread it runs in, so it has one to itself. CommonJS, and its whole text. */
const worker = `
  const { parentPort, workerData } = require('node:worker_threads');
  const solver = require(workerData)({});
  parentPort.on('message', async ({ id, program }) => {
    try {
      const answer = (await solver).solve(program);
      const values = answer.Status === 'Optimal' ? Object.entries(answer.Columns).map(([name, column]) => [name, column.Primal]) : null;
      parentPort.postMessage({ id, status: answer.Status, values });
    } catch (error) {
      parentPort.postMessage({ id, status: String(error), values: null });
    }
  });
`;

interface Solved {
  id: number;
  status: string;
  values: [name: string, value: number][] | null;
}

interface Waiting {
  resolve: (values: ReadonlyMap<string, number>) => void;
  reject: (error: Error) => void;
  timer: NodeJS.Timeout;
}

/** What is asked of a workshop's size is solved in tenths of a second. */
const patienceMs = 20_000;

/** Solves integer programs exactly, in a thread of their own: requests go on being answered meanwhile. */
@Injectable()
export class IntegerPrograms implements OnModuleDestroy {
  private thread: Worker | null = null;
  private readonly waiting = new Map<number, Waiting>();
  private count = 0;

  /**
   * @param program in CPLEX LP format
   * @returns the value of each variable @throws RefusalError where it takes too long @throws Error where it has no solution
   */
  solve(program: string): Promise<ReadonlyMap<string, number>> {
    this.count += 1;
    const id = this.count;
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => this.giveUp(), patienceMs);
      this.waiting.set(id, { resolve, reject, timer });
      this.running().postMessage({ id, program });
    });
  }

  async onModuleDestroy(): Promise<void> {
    await this.thread?.terminate();
  }

  private running(): Worker {
    if (this.thread !== null) return this.thread;
    const thread = new Worker(worker, { eval: true, workerData: solverPath });
    thread.unref();
    thread.on('message', (solved: Solved) => this.hear(solved));
    thread.on('error', (error) => this.fail(error));
    this.thread = thread;
    return thread;
  }

  private hear({ id, status, values }: Solved): void {
    const asked = this.waiting.get(id);
    this.waiting.delete(id);
    clearTimeout(asked?.timer);
    if (values === null) asked?.reject(new Error(`The solver says: ${status}`));
    else asked?.resolve(new Map(values));
  }

  private giveUp(): void {
    const tooLong = {
      status: 503,
      code: 'took-too-long',
      title: 'This takes too long',
      detail: `Nothing was found within ${patienceMs / 1000} seconds. Ask for fewer unit types at once.`,
    };
    this.fail(new RefusalError(tooLong));
  }

  private fail(error: Error): void {
    void this.thread?.terminate();
    this.thread = null;
    for (const { reject, timer } of this.waiting.values()) {
      clearTimeout(timer);
      reject(error);
    }
    this.waiting.clear();
  }
}
