import { PDFiumLibrary } from '@hyzyla/pdfium';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { Sale, SalePreview } from '../../libs/contracts/src/selling.js';
import type { Thing } from '../../libs/contracts/src/stores.js';
import { addPerson, type BareServer, startBareServer, type Visitor } from './bare-server.js';
import { Stock } from './stock.js';

export type SaleAnswer = Sale & { code: string; detail: string; values: Record<string, unknown> };

export interface LineKeyed {
  thingId: string;
  quantity?: string;
  price?: string;
  letGo?: string;
}

/** What the tests of counter sales ask and key: an owner, and somebody of the bench who does not keep the books. */
export class CounterDesk {
  private constructor(
    readonly server: BareServer,
    readonly owner: Visitor,
    readonly bench: Visitor,
    readonly stock: Stock,
  ) {}

  static async open(name: string): Promise<CounterDesk> {
    const server = await startBareServer(name);
    const owner = await server.setUp();
    const bench = await addPerson(server, owner, 'bench', 'tom', 'Tom Hasleby');
    return new CounterDesk(server, owner, bench, await Stock.open(server.testDatabase.ownerUrl));
  }

  async close(): Promise<void> {
    expect(await verifyBooks(this.server.database)).toEqual([]);
    await this.stock.close();
    await this.server.stop();
  }

  readonly sell = (lines: LineKeyed[], more: object = {}, by: Visitor = this.owner) =>
    by.post<SaleAnswer>('/api/sales', {
      id: newId(),
      lines: lines.map((line) => ({ quantity: '1', price: '10', ...line })),
      ...more,
    });

  readonly preview = async (...lines: string[]): Promise<SalePreview> =>
    (await this.owner.get<SalePreview>(`/api/sale-preview?lines=${lines.join(',')}`)).body;

  readonly page = async (id: string): Promise<Thing> => (await this.owner.get<Thing>(`/api/things/${id}`)).body;

  readonly back = (sale: Sale, more: object) =>
    this.owner.post<SaleAnswer>(`/api/sales/${sale.id}/taking-back`, {
      id: newId(),
      lineId: sale.lines[0]!.id,
      quantity: '1',
      placeId: this.stock.placeId,
      why: 'the wrong side',
      givenBack: '0',
      fitted: false,
      ...more,
    });

  readonly lotOf = async (quantity = '3', facts: Parameters<Stock['part']>[0] = {}) => {
    const partId = await this.stock.part(facts);
    return { partId, ...(await this.stock.lot(partId, { quantity })) };
  };

  /** Refused with this code, and nothing was sold. */
  readonly refusedWith = async (answer: Promise<{ status: number; body: SaleAnswer }>, code: string): Promise<SaleAnswer> => {
    const before = await this.count();
    const { status, body } = await answer;
    expect({ status, code: body.code }).toMatchObject({ code });
    expect(status).toBeGreaterThanOrEqual(400);
    expect(await this.count()).toBe(before);
    return body;
  };

  /** What other people's program reads in the receipt. */
  readonly textOf = async (saleId: string, paper: string): Promise<string> => {
    const answer = await fetch(`${this.server.url}/api/sales/${saleId}/receipt.pdf?paper=${paper}`, {
      headers: { cookie: this.owner.cookie ?? '' },
    });
    expect(answer.headers.get('content-type')).toBe('application/pdf');
    const library = await PDFiumLibrary.init();
    const document = await library.loadDocument(Buffer.from(await answer.arrayBuffer()));
    const text = [...document.pages()].map((each) => each.getText()).join('\n');
    document.destroy();
    library.destroy();
    return text.replace(/\s+/g, ' ');
  };

  private async count(): Promise<number> {
    const [row] = await this.stock.query<{ n: number }>('SELECT count(*)::integer AS n FROM sales');
    return row!.n;
  }
}
