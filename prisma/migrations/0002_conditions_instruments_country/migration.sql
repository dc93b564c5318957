-- AlterTable
ALTER TABLE "Shop" ADD COLUMN "country" TEXT NOT NULL DEFAULT 'GB';

-- AlterTable
ALTER TABLE "Reading" ADD COLUMN "engineSpeed" INTEGER;

-- CreateTable
CREATE TABLE "Instrument" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "kind" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "resolution" REAL NOT NULL,
    "unit" TEXT NOT NULL,
    "standardUncertainty" REAL NOT NULL,
    "calibrationDue" TEXT,
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "withdrawnAt" DATETIME,
    "version" INTEGER NOT NULL DEFAULT 1
);
