/** Names the folder of the invented shop that was made for this run, in the environment of its workers. */
export const madeDemo = 'STAND_LEDGER_MADE_DEMO'
