import type { WorkingCalendar } from '@corewright/contracts/planning';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type * as z from 'zod';
import { Button } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { sayDayWithWeekday } from '../../ui/say-when.js';
import { TextField } from '../../ui/TextField.js';
import { useCloseDay, useOpenDay, useSetWeek } from './actions.js';
import { calendarQuery } from './queries.js';
import styles from './SettingsScreen.module.css';

type Calendar = z.infer<typeof WorkingCalendar>;

/** When work is done: dates are reckoned on these hours and not on these days. */
export function CalendarSection() {
  const calendar = useQuery(calendarQuery);
  return (
    <Section title="Working week and closed days">
      {calendar.data === undefined && calendar.error === null && <Waiting>The calendar is being fetched.</Waiting>}
      {calendar.error !== null && <Failure word="Not shown" error={calendar.error} />}
      {calendar.data !== undefined && (
        <div className={styles.columns}>
          <WeekForm key={calendar.data.weekMinutes.join()} calendar={calendar.data} />
          <ClosedDays calendar={calendar.data} />
        </div>
      )}
    </Section>
  );
}

const weekdays = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'] as const;

/** "7.5" or "7,5" hours in whole minutes; null where it is no time of a day. */
function minutesOf(hours: string): number | null {
  const text = hours.trim().replace(',', '.');
  if (!/^\d{1,2}(\.\d{1,2})?$/.test(text)) return null;
  const minutes = Math.round(Number(text) * 60);
  return minutes <= 1440 ? minutes : null;
}

function WeekForm({ calendar }: { readonly calendar: Calendar }) {
  const [hours, setHours] = useState(() => calendar.weekMinutes.map((minutes) => String(Math.round((minutes / 60) * 100) / 100)));
  const set = useSetWeek();
  const minutes = hours.map(minutesOf);
  const send = () => {
    const valid = minutes.filter((each) => each !== null);
    if (valid.length === weekdays.length) set.mutate(valid);
  };
  return (
    <Form label="Hours of a working week" onSubmit={send}>
      <div className={styles.week}>
        {weekdays.map((weekday, index) => (
          <TextField
            key={weekday}
            label={weekday}
            value={hours[index] ?? ''}
            onChange={(text) => setHours(hours.map((each, at) => (at === index ? text : each)))}
            inputMode="decimal"
            error={minutes[index] === null ? 'Hours from 0 to 24' : null}
          />
        ))}
      </div>
      <Button type="submit" isPending={set.isPending}>
        Keep these hours
      </Button>
      {set.isSuccess && <p role="status">Kept. Dates are reckoned anew.</p>}
      {set.error !== null && <Failure word="Not kept" error={set.error} />}
    </Form>
  );
}

function ClosedDays({ calendar }: { readonly calendar: Calendar }) {
  const [keyed, setKeyed] = useState({ day: '', reason: '' });
  const close = useCloseDay();
  const open = useOpenDay();
  const failed = close.error ?? open.error;
  return (
    <div className={styles.stack}>
      <ul>
        {calendar.closedDays.length === 0 && <li className="quiet">No closed days are known.</li>}
        {calendar.closedDays.map((closed) => (
          <li key={closed.day} className={styles.acts}>
            <span>
              <b>{sayDayWithWeekday(closed.day)}</b>, {closed.reason}
            </span>
            <Button
              look="plain"
              label={`Work after all on ${sayDayWithWeekday(closed.day)}`}
              onPress={() => open.mutate(closed.day)}
            >
              Work after all
            </Button>
          </li>
        ))}
      </ul>
      <Form label="Close a day" onSubmit={() => close.mutate(keyed, { onSuccess: () => setKeyed({ day: '', reason: '' }) })}>
        <TextField label="Day" type="date" value={keyed.day} onChange={(day) => setKeyed({ ...keyed, day })} isRequired />
        <TextField
          label="Why it is closed"
          value={keyed.reason}
          onChange={(reason) => setKeyed({ ...keyed, reason })}
          isRequired
        />
        <Button type="submit" isPending={close.isPending}>
          Close this day
        </Button>
      </Form>
      {failed !== null && <Failure word="Not changed" error={failed} />}
    </div>
  );
}
