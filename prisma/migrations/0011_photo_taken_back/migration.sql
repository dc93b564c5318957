-- AlterTable
ALTER TABLE "Photo" ADD COLUMN "withdrawnAt" DATETIME;
ALTER TABLE "Photo" ADD COLUMN "withdrawnBy" TEXT;
