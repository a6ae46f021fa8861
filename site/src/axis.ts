// What stands along the side of a plot.

interface Axis {
  from: number;
  to: number;
  ticks: number[];
}

/** Round figures that span the values, and at least a tenth of the greatest: what hardly differs lies close together. */
export function axis(values: readonly number[], most: number): Axis {
  const [least, greatest] = [Math.min(...values), Math.max(...values)];
  const beside = Math.max(0, least - greatest * 0.9) / 2;
  const low = least - beside;
  const high = greatest + beside || 1;
  const rough = (high - low) / most;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * ([1, 2, 5].find((k) => k * power >= rough) ?? 10);
  const first = Math.floor(low / step);
  const last = Math.max(Math.ceil(high / step), first + 1);
  const ticks = Array.from({ length: last - first + 1 }, (_, i) => Number(((first + i) * step).toPrecision(12)));
  return { from: first * step, to: last * step, ticks };
}
