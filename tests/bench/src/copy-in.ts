import type pg from 'pg';

/** What the driver's connection has and its types leave out. */
interface TakesRows {
  sendCopyFromChunk(rows: Buffer): void;
  endCopyFrom(): void;
}

/** A COPY of rows that are at hand, for a client of the driver. */
export class CopyIn implements pg.Submittable {
  readonly done: Promise<void>;
  private settle!: () => void;
  private fail!: (error: Error) => void;

  constructor(
    private readonly text: string,
    private readonly rows: string,
  ) {
    this.done = new Promise((settle, fail) => {
      this.settle = settle;
      this.fail = fail;
    });
  }

  submit(connection: pg.Connection): void {
    connection.query(this.text);
  }

  /** The driver calls these by their names. */
  handleCopyInResponse(connection: TakesRows): void {
    connection.sendCopyFromChunk(Buffer.from(this.rows));
    connection.endCopyFrom();
  }

  handleCommandComplete(): void {}

  handleReadyForQuery(): void {
    this.settle();
  }

  handleError(error: Error): void {
    this.fail(error);
  }
}
