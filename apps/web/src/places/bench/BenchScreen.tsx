export function BenchScreen() {
  return null;
}
