import { readFileSync } from 'node:fs';
import { test } from 'vitest';
import { readJob, readMachine } from '../src/job/read.js';
import { planJob } from '../src/plan/plan.js';
test('x', () => {
  const t=readFileSync('samples/stem-bolt-hex-5.yaml','utf8');
  const prof=(n:string)=>({file:n,text:readFileSync(`shared/machines/${n}.yaml`,'utf8')});
  const job = readJob({file:'a.yaml',text:t}, prof);
  const p = planJob(job);
  console.log(p.flats[0], p.positions, p.touchOff, p.totals, p.findings, p.readings[0], job.defaults, p.steps.length);
  for (const m of ['bench-mill-rotary','knee-mill-by-hand','hobby-three-axis','inch-mill','clamped-rotary-mill','lathe-with-tool-post']) readMachine(prof(m));
  for (const [a,b] of [['flatLength','flatLenght'],['hex\n','hexx\n'],['2.5 deg','2.5 mm'],['machine: bench','machine: bunch'],['5.06','-1'],['relief: 2.5 deg','#'],['units: mm','units: cm'],['index: rotary axis','index: by hand\n  device: {kind: block, sides: 3}'],['section: hex','section: {flats: [{at: 0, dist: 3}]}'],['sparkOut: 3','sparkOut: many'], ['  roughInf','\troughInf'],['diameter: 75','diameter: .nan'],['section: hex','section: triangle'],['5100','32 m/s'],['5100','fast']] as const)
  try { console.log(a, readJob({file:'a.yaml',text:t.replace(a,b)}, prof).wheel.ratedSpeed) } catch(e:any) { console.log(a,'->',b,'\n   ',e.name, e.message) }
});
