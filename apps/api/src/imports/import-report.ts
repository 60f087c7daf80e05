import type { ImportFault, ImportReport } from '@corewright/contracts/imports';

type FileCounts = ImportReport['files'][number];

const shownMax = 500;

/** Gathers what an import finds, row by row; keeps the first of many faults and counts them all. */
export class ReportBook {
  private readonly files = new Map<string, FileCounts>();
  private readonly faults: ImportFault[] = [];
  private readonly notes: ImportFault[] = [];
  private total = 0;

  open(file: string, encoding: string): void {
    this.files.set(file, { file, encoding, rows: 0, added: 0, unchanged: 0, faults: 0 });
  }

  count(file: string, what: 'rows' | 'added' | 'unchanged'): void {
    const counts = this.files.get(file);
    if (counts) counts[what] += 1;
  }

  fault(fault: ImportFault): void {
    this.total += 1;
    const counts = this.files.get(fault.file);
    if (counts) counts.faults += 1;
    if (this.faults.length < shownMax) this.faults.push(shortened(fault));
  }

  note(note: ImportFault): void {
    if (this.notes.length < shownMax) this.notes.push(shortened(note));
  }

  get faultsTotal(): number {
    return this.total;
  }

  /** @param applied whether what was read is now in the books */
  close(id: string, applied: boolean): ImportReport {
    return { id, applied, files: [...this.files.values()], faults: this.faults, faultsTotal: this.total, notes: this.notes };
  }
}

function shortened(fault: ImportFault): ImportFault {
  return fault.value.length > 80 ? { ...fault, value: `${fault.value.slice(0, 80)}…` } : fault;
}
