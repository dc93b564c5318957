-- CreateTable
CREATE TABLE "PersonWork" (
    "personId" TEXT NOT NULL PRIMARY KEY,
    "atBench" BOOLEAN NOT NULL DEFAULT true,
    "skills" TEXT,
    "pace" REAL NOT NULL DEFAULT 1,
    "weekdays" TEXT,
    "fromMinute" INTEGER,
    "toMinute" INTEGER,
    "setBy" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1
);

-- CreateTable
CREATE TABLE "TimeOff" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "forPerson" TEXT,
    "what" TEXT NOT NULL,
    "fromDay" TEXT NOT NULL,
    "toDay" TEXT NOT NULL,
    "fromMinute" INTEGER,
    "toMinute" INTEGER,
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "withdrawnAt" DATETIME
);

-- CreateTable
CREATE TABLE "Promised" (
    "bikeId" TEXT NOT NULL PRIMARY KEY,
    "day" TEXT,
    "note" TEXT NOT NULL DEFAULT '',
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "Promised_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "PlanPin" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "task" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "day" TEXT NOT NULL,
    "minute" INTEGER NOT NULL,
    "doer" TEXT,
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "withdrawnAt" DATETIME,
    CONSTRAINT "PlanPin_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "BenchPlan" (
    "no" INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    "inputsHash" TEXT NOT NULL,
    "startsOn" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "at" DATETIME NOT NULL
);

-- CreateIndex
CREATE INDEX "PlanPin_bikeId_idx" ON "PlanPin"("bikeId");

-- CreateTable
CREATE TABLE "PlannedReady" (
    "bikeId" TEXT NOT NULL PRIMARY KEY,
    "startsOn" TEXT NOT NULL,
    "low" REAL NOT NULL,
    "middle" REAL NOT NULL,
    "high" REAL NOT NULL,
    CONSTRAINT "PlannedReady_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);
