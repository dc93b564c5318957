-- CreateTable
CREATE TABLE "WhatIf" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "bikeId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "personId" TEXT NOT NULL,
    "at" DATETIME NOT NULL,
    "withdrawnAt" DATETIME,
    "version" INTEGER NOT NULL DEFAULT 1,
    CONSTRAINT "WhatIf_bikeId_fkey" FOREIGN KEY ("bikeId") REFERENCES "Bike" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- CreateIndex
CREATE INDEX "WhatIf_bikeId_idx" ON "WhatIf"("bikeId");
