import type { LabelModel } from '@corewright/labels/label-model';

/** The stock on which a label belongs; an A4 sheet takes any. */
export type NaturalStock = 'tie-on tag' | 'bag label';

/** What is printed for one code: as many labels as there are models, none alike. */
export interface LabelSubject {
  stock: NaturalStock;
  models: readonly [LabelModel, ...LabelModel[]];
}
