// Solves every .mps file of a folder with the npm package highs, fixed at
// 1.15.3, and prints what it found as CSV:
//
//   npm pack highs@1.15.3 && tar -xzf highs-1.15.3.tgz
//   EVENSTEAD_LP_DIR=$PWD/mps go test ./lp -run WriteSecond
//   node lp/testdata/second.mjs package mps > lp/testdata/second.csv
//
// Each is solved twice, by interior point with crossover and by dual simplex;
// where they disagree it stops; one of them may not know. "seconds" is of the interior point run alone.
import { readFileSync, readdirSync } from 'node:fs'
import { createRequire } from 'node:module'
import { join, resolve } from 'node:path'

const [pkg, dir] = process.argv.slice(2)
const require = createRequire(import.meta.url)
const highs = await require(resolve(pkg))()
const version = JSON.parse(readFileSync(join(pkg, 'package.json'))).version

function solve(bytes, solver) {
  const model = highs.createModel({ format: 'mps', data: bytes })
  model.options.set({ solver, run_crossover: 'on', output_flag: false })
  const began = performance.now()
  model.run()
  const seconds = (performance.now() - began) / 1000
  const status = { 7: 'optimal', 8: 'infeasible', 10: 'unbounded' }[model.getModelStatus()] ?? 'unknown'
  const objective = model.info.get('objective_function_value')
  model.dispose()
  return { status, objective, seconds }
}

console.log(`# npm highs ${version}, node ${process.version}: see second.mjs for the command`)
console.log('name,status,objective,seconds')
for (const file of readdirSync(dir).filter(f => f.endsWith('.mps')).sort()) {
  const bytes = readFileSync(join(dir, file))
  const ipm = solve(bytes, 'ipm'), simplex = solve(bytes, 'simplex')
  const known = ipm.status === 'unknown' ? simplex : ipm
  const apart = Math.abs(ipm.objective - simplex.objective) > 1e-7 * Math.max(1, Math.abs(ipm.objective))
  if (known.status === 'unknown' || simplex.status !== 'unknown' && simplex.status !== known.status || known.status === 'optimal' && apart) {
    throw new Error(`${file}: ${JSON.stringify([ipm, simplex])}`)
  }
  console.log([file.replace('.mps', ''), known.status, known.status === 'optimal' ? known.objective : '', ipm.seconds.toFixed(4)].join(','))
}
