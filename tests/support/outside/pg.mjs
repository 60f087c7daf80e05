export default (await globalThis.importOutside('pg')).default;
