// Where the names of the workspace's libraries lead: to their sources, so that nothing has to be built first.
const { readdirSync } = require('node:fs');
const { join } = require('node:path');

const libs = join(__dirname, 'libs');
const alias = Object.fromEntries(readdirSync(libs).map((name) => [`@corewright/${name}`, join(libs, name, 'src')]));

module.exports = { resolve: { alias, extensions: ['.ts', '.tsx', '.mjs', '.js', '.json'] } };
