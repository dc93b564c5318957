-- CreateTable
CREATE TABLE "Spend" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "runId" TEXT,
    "kind" TEXT NOT NULL,
    "what" TEXT NOT NULL,
    "number" TEXT NOT NULL DEFAULT '',
    "qty" REAL NOT NULL DEFAULT 1,
    "amountMinor" INTEGER,
    "atBench" BOOLEAN NOT NULL DEFAULT false,
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "withdrawnAt" DATETIME,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "Spend_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateIndex
CREATE INDEX "Spend_bikeId_idx" ON "Spend"("bikeId");
