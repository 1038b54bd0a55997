// SPDX-License-Identifier: MIT
// usage: node read_code.mjs FOLDER FORMAT PICTURE.pgm...
// FOLDER holds zxing-wasm (fetch_code_reader). Reads each picture (binary PGM, one byte a pixel) as a symbol of that format
// and prints one JSON object a picture: text, version and level; null where nothing is found.
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

const [folder, format, ...pictures] = process.argv.slice(2);
const { prepareZXingModule, readBarcodes } = await import(pathToFileURL(`${folder}/es/reader/index.js`));
await prepareZXingModule({ overrides: { wasmBinary: readFileSync(`${folder}/zxing_reader.wasm`) }, fireImmediately: true });

for (const picture of pictures) {
  const bytes = readFileSync(picture);
  const header = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 40).toString('latin1'));
  const width = Number(header[1]), height = Number(header[2]);
  const grey = bytes.subarray(header[0].length);
  const data = new Uint8ClampedArray(width * height * 4);
  for (let i = 0; i < width * height; ++i) data.set([grey[i], grey[i], grey[i], 255], 4 * i);
  const [found] = await readBarcodes({ data, width, height }, { formats: [format], tryHarder: true });
  console.log(JSON.stringify(found ? { text: found.text, version: found.version, level: found.ecLevel, format: found.format } : null));
}
