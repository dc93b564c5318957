export default function Start() {
  return <main>Stand &amp; Ledger</main>
}
