export { type LineAccepts, lineAccepts, lineAcceptsFrom } from '../catalogue/build-standards/line-accepts.js';
