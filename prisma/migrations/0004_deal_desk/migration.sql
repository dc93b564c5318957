-- AlterTable
ALTER TABLE "Session" ADD COLUMN "sellerSideAt" DATETIME;

-- CreateTable
CREATE TABLE "Comparable" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT,
    "make" TEXT NOT NULL,
    "makeKey" TEXT NOT NULL,
    "model" TEXT NOT NULL,
    "modelKey" TEXT NOT NULL,
    "year" INTEGER,
    "distance" REAL,
    "distanceUnit" TEXT NOT NULL,
    "condition" TEXT NOT NULL,
    "market" TEXT NOT NULL,
    "asked" BOOLEAN NOT NULL,
    "priceMinor" INTEGER NOT NULL,
    "firstSeenOn" TEXT NOT NULL,
    "lastSeenOn" TEXT NOT NULL,
    "link" TEXT NOT NULL DEFAULT '',
    "note" TEXT NOT NULL DEFAULT '',
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "withdrawnAt" DATETIME,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "Comparable_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE SET NULL ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "OtherWays" (
    "bikeId" TEXT NOT NULL PRIMARY KEY,
    "tradeLowMinor" INTEGER,
    "tradeLikelyMinor" INTEGER,
    "tradeHighMinor" INTEGER,
    "partsLowMinor" INTEGER,
    "partsLikelyMinor" INTEGER,
    "partsHighMinor" INTEGER,
    "stripHours" REAL,
    "breakCostMinor" INTEGER,
    "wastePermit" BOOLEAN NOT NULL DEFAULT false,
    "registryNotice" BOOLEAN NOT NULL DEFAULT false,
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "OtherWays_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "CounterOffer" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "offerId" TEXT NOT NULL,
    "said" TEXT NOT NULL,
    "amountMinor" INTEGER NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    CONSTRAINT "CounterOffer_offerId_fkey" FOREIGN KEY ("offerId") REFERENCES "Offer" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- AlterTable
ALTER TABLE "Offer" ADD COLUMN "sheet" TEXT NOT NULL DEFAULT '{}';
ALTER TABLE "Offer" ADD COLUMN "subjectTo" TEXT NOT NULL DEFAULT '';

-- CreateIndex
CREATE INDEX "Comparable_makeKey_modelKey_idx" ON "Comparable"("makeKey", "modelKey");

-- CreateIndex
CREATE INDEX "Comparable_bikeId_idx" ON "Comparable"("bikeId");

-- CreateIndex
CREATE INDEX "CounterOffer_offerId_idx" ON "CounterOffer"("offerId");
