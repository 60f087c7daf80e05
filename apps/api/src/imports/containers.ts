import { lockConsumableOfLot, openContainer } from '../consumables/containers/open-container.js';
import { readUseBy } from '../consumables/containers/read-use-by.js';
import type { Books } from './books.js';
import type { Row } from './row.js';

/** What a row of lots says of containers of a consumable. Dates are plain dates. */
export interface ContainerOfRow {
  /** what the packet says; null where nobody has read one */
  useBy: string | null;
  isOpen: boolean;
  /** null where nobody knows since when */
  openedOn: string | null;
}

/** @param quantity null where the row's quantity has a fault */
export function containerIn(row: Row, quantity: string | null): ContainerOfRow {
  const isOpen = row.yes('opened');
  if (!isOpen && row.cell('opened_on') !== '') row.fault('opened_on', 'Say yes under "opened" too, or leave the day empty.');
  if (isOpen && quantity !== null && quantity !== '1')
    row.fault('opened', 'An open container is a row of its own with the quantity 1. Put it on a row apart from the full ones.');
  return { useBy: row.day('use_by'), isOpen, openedOn: row.day('opened_on') };
}

/** Writes what is said, by the rules of the screens; false, with a fault, where those refuse it. */
export async function keepContainer(
  row: Row,
  books: Books,
  thingId: string,
  { useBy, isOpen, openedOn }: ContainerOfRow,
): Promise<boolean> {
  const { transaction, today } = books;
  const read = useBy === null ? null : await readUseBy(transaction, thingId, useBy);
  if (read !== null && !read.ok) row.refused('use_by', read.error);
  if (!isOpen || row.faulty) return !row.faulty;
  const consumable = await lockConsumableOfLot(transaction, thingId);
  const opened = consumable.ok
    ? await openContainer(transaction, consumable.value, { thingId, placeId: null, openedOn, today, label: '' })
    : consumable;
  if (!opened.ok) row.refused('opened', opened.error);
  return opened.ok;
}
