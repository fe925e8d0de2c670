// Loads manifests, named one a line on standard input, with @iiif/parser and
// says in JSON what it found in each.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const load = createRequire(process.argv[2] + '/');
const { Traverse } = load('@iiif/parser');
const { presentation3StrictUpgrade } = load('@iiif/parser/strict');
const { parseImageServiceRequest, isLevel0 } = load('@iiif/parser/image-3');

const out = [];
for (const name of readFileSync(0, 'utf8').split('\n').filter(Boolean)) {
  const text = readFileSync(name, 'utf8');
  const seen = { canvases: [], annotations: 0, images: [], ranges: [], services: 0, level0: 0, warnings: [], same: false, error: '' };
  try {
    const each = new Traverse({
      canvas: [(c) => { if (c.items) { seen.canvases.push(c.id); } }],
      annotation: [() => { seen.annotations++; }],
      contentResource: [(r) => { if (/full\/max/.test(r.id)) { seen.images.push(parseImageServiceRequest(r.id).region.full === true); } }],
      range: [(r) => { seen.ranges.push(r.id); }],
      service: [(s) => { seen.services++; if (s.type === 'ImageService3' && isLevel0(s)) { seen.level0++; } }],
    });
    each.traverseUnknown(JSON.parse(text));
    const state = { warnings: [] };
    const mended = presentation3StrictUpgrade(JSON.parse(text), state);
    seen.warnings = state.warnings;
    seen.same = JSON.stringify(mended) === JSON.stringify(JSON.parse(text));
  } catch (e) {
    seen.error = String(e);
  }
  out.push(seen);
}
console.log(JSON.stringify(out));
