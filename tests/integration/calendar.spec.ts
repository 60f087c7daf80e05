import { jest } from '@jest/globals';
import { newId } from '../../apps/api/src/platform/new-id.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';

// A busy machine is slow, not wrong.
jest.setTimeout(60_000);

interface Calendar {
  weekMinutes: number[];
  closedDays: { day: string; reason: string }[];
}

let server: BareServer;
let owner: Visitor;

beforeAll(async () => {
  server = await startBareServer('calendar');
  owner = await server.setUp();
});
afterAll(() => server.stop());

const calendar = async () => (await owner.get<Calendar>('/api/calendar')).body;

describe('the working calendar', () => {
  it('begins with five working days and no closed day', async () => {
    expect(await calendar()).toEqual({ weekMinutes: [480, 480, 480, 480, 420, 0, 0], closedDays: [] });
  });

  it('takes another week, Monday first', async () => {
    const weekMinutes = [0, 510, 510, 510, 510, 240, 0];
    const answer = await owner.put<Calendar>('/api/calendar/week', { weekMinutes });
    expect(answer).toMatchObject({ status: 200, body: { weekMinutes } });
    expect((await calendar()).weekMinutes).toEqual(weekMinutes);
  });

  it('refuses a week with no working time and keeps the one that was there', async () => {
    const before = await calendar();
    const answer = await owner.put('/api/calendar/week', { weekMinutes: [0, 0, 0, 0, 0, 0, 0] });
    expect(answer).toMatchObject({ status: 422, body: { code: 'bad-input', values: { fields: [{ path: 'weekMinutes' }] } } });
    expect(await calendar()).toEqual(before);
  });

  it.each([
    ['six days', [480, 480, 480, 480, 480, 0]],
    ['more than a day holds', [1441, 0, 0, 0, 0, 0, 0]],
    ['less than nothing', [-1, 480, 0, 0, 0, 0, 0]],
    ['half a minute', [0.5, 480, 0, 0, 0, 0, 0]],
  ])('refuses a week of %s', async (_, weekMinutes) => {
    expect((await owner.put('/api/calendar/week', { weekMinutes })).status).toBe(422);
  });

  it('shuts a day, once however often it is sent, and a second time with a new reason', async () => {
    const key = newId();
    const body = { day: '2026-12-25', reason: 'Christmas' };
    const first = await owner.post<Calendar>('/api/calendar/closed-days', body, { key });
    const second = await owner.post<Calendar>('/api/calendar/closed-days', body, { key });
    expect(second.body).toEqual(first.body);
    await owner.post('/api/calendar/closed-days', { day: '2026-08-31', reason: 'Stocktaking' });
    await owner.post('/api/calendar/closed-days', { day: '2026-12-25', reason: 'Christmas Day' });
    expect((await calendar()).closedDays).toEqual([
      { day: '2026-08-31', reason: 'Stocktaking' },
      { day: '2026-12-25', reason: 'Christmas Day' },
    ]);
  });

  it('opens a day again, and says so when it was not shut', async () => {
    const opened = await owner.post<Calendar>('/api/calendar/closed-days/2026-08-31/open', {});
    expect(opened.body.closedDays.map((closed) => closed.day)).toEqual(['2026-12-25']);
    const again = await owner.post('/api/calendar/closed-days/2026-08-31/open', {});
    expect(again).toMatchObject({ status: 404, body: { code: 'not-found', detail: expect.stringContaining('31 Aug 2026') } });
  });

  it('refuses a day that no calendar has', async () => {
    expect((await owner.post('/api/calendar/closed-days', { day: '2026-02-29', reason: 'Leap day' })).status).toBe(422);
    expect((await owner.post('/api/calendar/closed-days/2026-13-01/open', {})).status).toBe(422);
  });
});
