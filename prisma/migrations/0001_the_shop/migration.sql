-- CreateTable
CREATE TABLE "Shop" (
    "id" INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT DEFAULT 1,
    "name" TEXT NOT NULL,
    "currency" TEXT NOT NULL,
    "lengthUnit" TEXT NOT NULL,
    "zone" TEXT NOT NULL,
    "figuresNo" INTEGER NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "createdAt" DATETIME NOT NULL
);

-- CreateTable
CREATE TABLE "Figures" (
    "no" INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    "body" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "personId" TEXT,
    "at" DATETIME NOT NULL
);

-- CreateTable
CREATE TABLE "Person" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "name" TEXT NOT NULL,
    "nameKey" TEXT NOT NULL,
    "pinHash" TEXT NOT NULL,
    "leftAt" DATETIME,
    "version" INTEGER NOT NULL DEFAULT 1,
    "createdAt" DATETIME NOT NULL
);

-- CreateTable
CREATE TABLE "PersonRole" (
    "personId" TEXT NOT NULL,
    "role" TEXT NOT NULL,

    PRIMARY KEY ("personId", "role"),
    CONSTRAINT "PersonRole_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Device" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "name" TEXT NOT NULL,
    "tokenHash" TEXT NOT NULL,
    "enrolledAt" DATETIME NOT NULL,
    "enrolledBy" TEXT,
    "revokedAt" DATETIME,
    "version" INTEGER NOT NULL DEFAULT 1
);

-- CreateTable
CREATE TABLE "EnrolCode" (
    "codeHash" TEXT NOT NULL PRIMARY KEY,
    "purpose" TEXT NOT NULL,
    "madeBy" TEXT,
    "madeAt" DATETIME NOT NULL,
    "expiresAt" DATETIME NOT NULL,
    "usedAt" DATETIME
);

-- CreateTable
CREATE TABLE "Session" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "tokenHash" TEXT NOT NULL,
    "personId" TEXT NOT NULL,
    "deviceId" TEXT NOT NULL,
    "startedAt" DATETIME NOT NULL,
    "seenAt" DATETIME NOT NULL,
    "expiresAt" DATETIME NOT NULL,
    "endedAt" DATETIME,
    CONSTRAINT "Session_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Session_deviceId_fkey" FOREIGN KEY ("deviceId") REFERENCES "Device" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "SignInDelay" (
    "personId" TEXT NOT NULL,
    "deviceId" TEXT NOT NULL,
    "fails" INTEGER NOT NULL,
    "lastFailAt" DATETIME NOT NULL,
    "nextAllowedAt" DATETIME NOT NULL,

    PRIMARY KEY ("personId", "deviceId")
);

-- CreateTable
CREATE TABLE "Bike" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "viewingNo" INTEGER NOT NULL,
    "stockNo" INTEGER,
    "stage" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "frameNumber" TEXT,
    "registration" TEXT,
    "registrationKey" TEXT,
    "make" TEXT NOT NULL,
    "makeKey" TEXT NOT NULL,
    "model" TEXT NOT NULL,
    "modelKey" TEXT NOT NULL,
    "year" INTEGER,
    "distance" REAL,
    "distanceUnit" TEXT NOT NULL,
    "sellerName" TEXT,
    "sellerContact" TEXT,
    "askingMinor" INTEGER,
    "saleLowMinor" INTEGER,
    "saleLikelyMinor" INTEGER,
    "saleHighMinor" INTEGER,
    "notes" TEXT NOT NULL DEFAULT '',
    "version" INTEGER NOT NULL DEFAULT 1,
    "createdAt" DATETIME NOT NULL,
    "createdBy" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Reading" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "seq" INTEGER NOT NULL,
    "bikeId" TEXT NOT NULL,
    "check" TEXT NOT NULL,
    "position" TEXT,
    "kind" TEXT NOT NULL,
    "value" TEXT NOT NULL,
    "unit" TEXT,
    "conditions" TEXT,
    "instrument" TEXT,
    "note" TEXT,
    "personId" TEXT NOT NULL,
    "deviceId" TEXT,
    "takenAt" DATETIME NOT NULL,
    "receivedAt" DATETIME NOT NULL,
    "supersedes" TEXT,
    "hash" TEXT NOT NULL,
    CONSTRAINT "Reading_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Photo" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "check" TEXT,
    "sha256" TEXT NOT NULL,
    "width" INTEGER NOT NULL,
    "height" INTEGER NOT NULL,
    "bytes" INTEGER NOT NULL,
    "caption" TEXT NOT NULL DEFAULT '',
    "personId" TEXT NOT NULL,
    "deviceId" TEXT,
    "takenAt" DATETIME NOT NULL,
    "receivedAt" DATETIME NOT NULL,
    CONSTRAINT "Photo_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Limit" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "check" TEXT NOT NULL,
    "scope" TEXT NOT NULL,
    "bikeId" TEXT,
    "makeKey" TEXT,
    "modelKey" TEXT,
    "yearFrom" INTEGER,
    "yearTo" INTEGER,
    "position" TEXT,
    "min" REAL,
    "max" REAL,
    "asNew" REAL,
    "saleMin" REAL,
    "saleMax" REAL,
    "unit" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "sourceNote" TEXT NOT NULL DEFAULT '',
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "withdrawnAt" DATETIME,
    "version" INTEGER NOT NULL DEFAULT 1
);

-- CreateTable
CREATE TABLE "Decision" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "withdrawnAt" DATETIME,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "Decision_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "LockClearing" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "fault" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "until" DATETIME NOT NULL,
    CONSTRAINT "LockClearing_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Offer" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "priceMinor" INTEGER NOT NULL,
    "validUntil" TEXT NOT NULL,
    "input" TEXT NOT NULL,
    "output" TEXT NOT NULL,
    "coreVersion" TEXT NOT NULL,
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    CONSTRAINT "Offer_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "Purchase" (
    "bikeId" TEXT NOT NULL PRIMARY KEY,
    "priceMinor" INTEGER NOT NULL,
    "day" TEXT NOT NULL,
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    CONSTRAINT "Purchase_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateTable
CREATE TABLE "CatalogueChange" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "kind" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "patch" TEXT NOT NULL,
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1
);

-- CreateTable
CREATE TABLE "Event" (
    "seq" INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    "at" DATETIME NOT NULL,
    "personId" TEXT,
    "deviceId" TEXT,
    "verb" TEXT NOT NULL,
    "bikeId" TEXT,
    "body" TEXT NOT NULL,
    "previousHash" TEXT NOT NULL,
    "hash" TEXT NOT NULL
);

-- CreateTable
CREATE TABLE "Operation" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bodyHash" TEXT NOT NULL,
    "answer" TEXT NOT NULL,
    "at" DATETIME NOT NULL
);

-- CreateTable
CREATE TABLE "Derived" (
    "bikeId" TEXT NOT NULL PRIMARY KEY,
    "inputsHash" TEXT NOT NULL,
    "asOf" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "marginMinor" INTEGER,
    "perHourMinor" INTEGER,
    "chanceOfLoss" REAL,
    "at" DATETIME NOT NULL,
    CONSTRAINT "Derived_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateIndex
CREATE UNIQUE INDEX "Person_nameKey_key" ON "Person"("nameKey");

-- CreateIndex
CREATE UNIQUE INDEX "Device_tokenHash_key" ON "Device"("tokenHash");

-- CreateIndex
CREATE UNIQUE INDEX "Session_tokenHash_key" ON "Session"("tokenHash");

-- CreateIndex
CREATE UNIQUE INDEX "Bike_viewingNo_key" ON "Bike"("viewingNo");

-- CreateIndex
CREATE UNIQUE INDEX "Bike_stockNo_key" ON "Bike"("stockNo");

-- CreateIndex
CREATE INDEX "Bike_stage_idx" ON "Bike"("stage");

-- CreateIndex
CREATE INDEX "Bike_registrationKey_idx" ON "Bike"("registrationKey");

-- CreateIndex
CREATE INDEX "Bike_makeKey_modelKey_idx" ON "Bike"("makeKey", "modelKey");

-- CreateIndex
CREATE UNIQUE INDEX "Reading_seq_key" ON "Reading"("seq");

-- CreateIndex
CREATE INDEX "Reading_bikeId_check_idx" ON "Reading"("bikeId", "check");

-- CreateIndex
CREATE INDEX "Photo_bikeId_idx" ON "Photo"("bikeId");

-- CreateIndex
CREATE INDEX "Limit_check_scope_idx" ON "Limit"("check", "scope");

-- CreateIndex
CREATE INDEX "Limit_bikeId_idx" ON "Limit"("bikeId");

-- CreateIndex
CREATE INDEX "Decision_bikeId_idx" ON "Decision"("bikeId");

-- CreateIndex
CREATE INDEX "LockClearing_bikeId_idx" ON "LockClearing"("bikeId");

-- CreateIndex
CREATE INDEX "Offer_bikeId_idx" ON "Offer"("bikeId");

-- CreateIndex
CREATE UNIQUE INDEX "CatalogueChange_kind_key_key" ON "CatalogueChange"("kind", "key");

-- CreateIndex
CREATE INDEX "Event_bikeId_idx" ON "Event"("bikeId");

-- CreateIndex
CREATE INDEX "Derived_marginMinor_idx" ON "Derived"("marginMinor");
