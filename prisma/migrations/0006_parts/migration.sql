-- CreateTable
CREATE TABLE "Supplier" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "name" TEXT NOT NULL,
    "nameKey" TEXT NOT NULL,
    "contact" TEXT NOT NULL DEFAULT '',
    "carriageMinor" INTEGER,
    "minimumMinor" INTEGER,
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1
);

-- CreateTable
CREATE TABLE "PartOrder" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "supplierId" TEXT NOT NULL,
    "day" TEXT NOT NULL,
    "reference" TEXT NOT NULL DEFAULT '',
    "carriageMinor" INTEGER NOT NULL,
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    CONSTRAINT "PartOrder_supplierId_fkey" FOREIGN KEY ("supplierId") REFERENCES "Supplier" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "PartLine" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "job" TEXT NOT NULL,
    "jobTitle" TEXT NOT NULL,
    "part" TEXT NOT NULL,
    "number" TEXT NOT NULL DEFAULT '',
    "qty" REAL NOT NULL,
    "source" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "supplierId" TEXT,
    "unitMinor" INTEGER,
    "leadDays" INTEGER,
    "neverChance" REAL,
    "orderId" TEXT,
    "carriageMinor" INTEGER,
    "dueOn" TEXT,
    "shelfPartId" TEXT,
    "arrivedAt" DATETIME,
    "note" TEXT NOT NULL DEFAULT '',
    "spendId" TEXT,
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "PartLine_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "PartLine_supplierId_fkey" FOREIGN KEY ("supplierId") REFERENCES "Supplier" ("id") ON DELETE SET NULL ON UPDATE CASCADE,
    CONSTRAINT "PartLine_orderId_fkey" FOREIGN KEY ("orderId") REFERENCES "PartOrder" ("id") ON DELETE SET NULL ON UPDATE CASCADE,
    CONSTRAINT "PartLine_shelfPartId_fkey" FOREIGN KEY ("shelfPartId") REFERENCES "ShelfPart" ("id") ON DELETE SET NULL ON UPDATE CASCADE,
    CONSTRAINT "PartLine_spendId_fkey" FOREIGN KEY ("spendId") REFERENCES "Spend" ("id") ON DELETE SET NULL ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "SentOut" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "job" TEXT,
    "jobTitle" TEXT NOT NULL DEFAULT '',
    "what" TEXT NOT NULL,
    "whoHas" TEXT NOT NULL,
    "sentOn" TEXT NOT NULL,
    "dueOn" TEXT,
    "amountMinor" INTEGER,
    "backAt" DATETIME,
    "backBy" TEXT,
    "note" TEXT NOT NULL DEFAULT '',
    "spendId" TEXT,
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "SentOut_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "SentOut_spendId_fkey" FOREIGN KEY ("spendId") REFERENCES "Spend" ("id") ON DELETE SET NULL ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "ShelfPart" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "what" TEXT NOT NULL,
    "number" TEXT NOT NULL DEFAULT '',
    "qty" REAL NOT NULL,
    "condition" TEXT NOT NULL,
    "fitsMake" TEXT NOT NULL,
    "fitsMakeKey" TEXT NOT NULL,
    "fitsModel" TEXT NOT NULL,
    "fitsModelKey" TEXT NOT NULL,
    "place" TEXT NOT NULL DEFAULT '',
    "story" TEXT NOT NULL,
    "fromBikeId" TEXT,
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "withdrawnAt" DATETIME,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "ShelfPart_fromBikeId_fkey" FOREIGN KEY ("fromBikeId") REFERENCES "Bike" ("id") ON DELETE SET NULL ON UPDATE CASCADE
);

-- CreateIndex
CREATE UNIQUE INDEX "Supplier_nameKey_key" ON "Supplier"("nameKey");

-- CreateIndex
CREATE INDEX "PartOrder_supplierId_idx" ON "PartOrder"("supplierId");

-- CreateIndex
CREATE UNIQUE INDEX "PartLine_spendId_key" ON "PartLine"("spendId");

-- CreateIndex
CREATE INDEX "PartLine_bikeId_idx" ON "PartLine"("bikeId");

-- CreateIndex
CREATE INDEX "PartLine_state_idx" ON "PartLine"("state");

-- CreateIndex
CREATE INDEX "PartLine_supplierId_idx" ON "PartLine"("supplierId");

-- CreateIndex
CREATE UNIQUE INDEX "SentOut_spendId_key" ON "SentOut"("spendId");

-- CreateIndex
CREATE INDEX "SentOut_bikeId_idx" ON "SentOut"("bikeId");

-- CreateIndex
CREATE INDEX "ShelfPart_fitsMakeKey_fitsModelKey_idx" ON "ShelfPart"("fitsMakeKey", "fitsModelKey");
