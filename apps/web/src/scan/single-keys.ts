const shelf = 'corewright.single-keys';

/** Whether single keys outside a field act (quantity, choices 1 to 3). They can be switched off for those who dictate. */
export function singleKeysAct(): boolean {
  try {
    return localStorage.getItem(shelf) !== 'off';
  } catch {
    return true;
  }
}

export function setSingleKeysAct(act: boolean): void {
  try {
    localStorage.setItem(shelf, act ? 'on' : 'off');
  } catch {
    // cannot be kept: they go on acting
  }
}
