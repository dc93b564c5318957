-- AlterTable
ALTER TABLE "Shop" ADD COLUMN "certificateWanted" BOOLEAN NOT NULL DEFAULT false;

-- AlterTable
ALTER TABLE "Bike" ADD COLUMN "nonRunner" BOOLEAN NOT NULL DEFAULT false;
ALTER TABLE "Bike" ADD COLUMN "clockChanged" BOOLEAN NOT NULL DEFAULT false;

-- AlterTable
ALTER TABLE "LockClearing" ADD COLUMN "oneRide" BOOLEAN NOT NULL DEFAULT false;

-- CreateTable
CREATE TABLE "JobRun" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "job" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "budgetHours" REAL,
    "stopOn" TEXT,
    "note" TEXT NOT NULL DEFAULT '',
    "startedBy" TEXT NOT NULL,
    "startedAt" DATETIME NOT NULL,
    "endedBy" TEXT,
    "endedAt" DATETIME,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "JobRun_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "JobSpell" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "runId" TEXT NOT NULL,
    "personId" TEXT NOT NULL,
    "startedAt" DATETIME NOT NULL,
    "endedAt" DATETIME,
    "minutes" INTEGER,
    CONSTRAINT "JobSpell_runId_fkey" FOREIGN KEY ("runId") REFERENCES "JobRun" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "OpenState" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "runId" TEXT,
    "kind" TEXT NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "putBackAt" DATETIME,
    "putBackBy" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "OpenState_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Question" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "runId" TEXT,
    "asks" TEXT NOT NULL,
    "undone" TEXT NOT NULL DEFAULT '',
    "keptWhere" TEXT NOT NULL DEFAULT '',
    "moreHours" REAL,
    "figures" TEXT,
    "stageBefore" TEXT NOT NULL,
    "askedBy" TEXT NOT NULL,
    "askedAt" DATETIME NOT NULL,
    "answer" TEXT,
    "answerNote" TEXT NOT NULL DEFAULT '',
    "budgetHours" REAL,
    "answeredBy" TEXT,
    "answeredAt" DATETIME,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "Question_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "RegisterAsk" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "register" TEXT NOT NULL,
    "askedOf" TEXT NOT NULL,
    "day" TEXT NOT NULL,
    "answer" TEXT NOT NULL,
    "amountMinor" INTEGER,
    "note" TEXT NOT NULL DEFAULT '',
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    CONSTRAINT "RegisterAsk_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "IdentityNote" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "point" TEXT NOT NULL,
    "answer" TEXT NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    CONSTRAINT "IdentityNote_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "DistanceNote" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "day" TEXT NOT NULL,
    "distance" REAL NOT NULL,
    "unit" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "withdrawnAt" DATETIME,
    CONSTRAINT "DistanceNote_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Ride" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "purpose" TEXT NOT NULL,
    "rider" TEXT NOT NULL,
    "licence" TEXT NOT NULL,
    "cover" TEXT NOT NULL,
    "plates" TEXT NOT NULL,
    "held" TEXT NOT NULL DEFAULT '',
    "unit" TEXT NOT NULL,
    "distanceOut" REAL NOT NULL,
    "outAt" DATETIME NOT NULL,
    "distanceIn" REAL,
    "inAt" DATETIME,
    "note" TEXT NOT NULL DEFAULT '',
    "personId" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "Ride_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "ReadyNote" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "point" TEXT NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    CONSTRAINT "ReadyNote_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateIndex
CREATE INDEX "JobRun_bikeId_idx" ON "JobRun"("bikeId");

-- CreateIndex
CREATE INDEX "JobSpell_runId_idx" ON "JobSpell"("runId");

-- CreateIndex
CREATE INDEX "OpenState_bikeId_idx" ON "OpenState"("bikeId");

-- CreateIndex
CREATE INDEX "Question_bikeId_idx" ON "Question"("bikeId");

-- CreateIndex
CREATE INDEX "RegisterAsk_bikeId_idx" ON "RegisterAsk"("bikeId");

-- CreateIndex
CREATE INDEX "IdentityNote_bikeId_idx" ON "IdentityNote"("bikeId");

-- CreateIndex
CREATE INDEX "DistanceNote_bikeId_idx" ON "DistanceNote"("bikeId");

-- CreateIndex
CREATE INDEX "Ride_bikeId_idx" ON "Ride"("bikeId");

-- CreateIndex
CREATE INDEX "ReadyNote_bikeId_idx" ON "ReadyNote"("bikeId");
